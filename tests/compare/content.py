"""What a procedure sheet shows, from the values of a procedure: the same for every peer."""

import re

import yaml

CAUTIONS = [
    ("Lens shade", "Choose the shade by process and current, and start darker."),
    ("Arc radiation", "The arc burns eyes and skin. Wear a helmet, cover all skin, and screen others from the light."),
    ("Asphyxiation", "Gas pushes air out of pits, tanks and pipe without warning. Test for oxygen and ventilate."),
    ("Closed container", "A closed or used container can burst. Have it emptied, cleaned, vented and tested."),
    ("Cylinders", "Chain cylinders upright, cap them when they move, and open valves slowly."),
    ("Electric shock", "The electrode and the work can kill. Keep dry, and do not touch live parts."),
    ("Fume", "Welding fume causes cancer. Extract at the arc, and keep your head out of the plume."),
    ("Hot metal", "Metal stays hot long after the arc is out. Mark it, and handle it with tongs."),
    ("Hot work", "Clear what can burn, keep an extinguisher at hand, and keep a fire watch afterwards."),
]
RUN_COLUMNS = ["run", "layer", "process", "filler", "current", "voltage", "travel_speed"]


class AsWritten(yaml.SafeLoader):
    """Every plain value stays text, as the sheets print it."""


AsWritten.yaml_implicit_resolvers = {}


def label(key):
    return str(key).replace("_", " ").capitalize()


def text(value):
    if isinstance(value, dict):
        return ", ".join(f"{label(key).lower()} {text(own)}" for key, own in value.items())
    if isinstance(value, list):
        return ", ".join(text(own) for own in value)
    return re.sub(r"(?<=\d)-(?=\d)", "\u2013", str(value))


def first_figure(value, default):
    found = re.search(r"\d+(\.\d+)?", str(value or ""))
    return float(found.group()) if found else default


def fields(part):
    items = part.items() if isinstance(part, dict) else ((str(index + 1), own) for index, own in enumerate(part))
    return [[label(key), text(value)] for key, value in items]


def content(path):
    """Heading, sections of labels and values, runs, cautions, and the joint as two plates with their gap."""
    document = yaml.load(path.read_bytes(), AsWritten)
    head = document["identification"]
    sections = []
    for key, part in document.items():
        if key in ("format", "document", "identification", "runs"):
            continue
        if key == "processes":
            sections += [[f"Process {name}", fields(block)] for name, block in part.items()]
        elif isinstance(part, (dict, list)):
            sections.append([label(key), fields(part)])
        else:
            sections.append([label(key), [[label(key), text(part)]]])
    runs = [[text(run.get(column, "")) for column in RUN_COLUMNS] for run in document.get("runs", [])]
    thickness = first_figure(document["parent_metals"][0].get("thickness"), 6.0)
    gap = first_figure(document.get("joint", {}).get("root_gap"), 2.0)
    return {
        "number": text(head["number"]),
        "title": text(head["title"]),
        "facts": fields({key: value for key, value in head.items() if key not in ("number", "title")}),
        "sections": sections,
        "run_heads": [label(column) for column in RUN_COLUMNS],
        "runs": runs,
        "cautions": [list(one) for one in CAUTIONS],
        "joint": {"thickness": thickness, "gap": gap},
        "source": path.read_text(encoding="utf-8"),
    }
