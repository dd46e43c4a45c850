//! A list of joints as it is pasted from a spreadsheet, as the text of a job.

use anyhow::{Result, anyhow, bail};
use seamwright_handbook::positions;
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_model::procedure::JointType;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Date;
use serde_json::{Map, Value, json};

use crate::input::JOINTS;

/// Keys of a joint, each with the heads of columns that mean it.
const HEADS: &[(&str, &[&str])] = &[
    ("joint", &["joint", "weld", "mark", "item", "name", "weld no", "joint no"]),
    ("drawing", &["drawing", "dwg", "drawing no"]),
    ("procedure", &["procedure", "wps", "wps no", "procedure no"]),
    ("procedure_revision", &["procedure revision", "procedure_revision", "rev", "revision"]),
    ("machine", &["machine", "power source"]),
    ("welder", &["welder", "stamp"]),
    ("length", &["length", "len", "length each", "weld length"]),
    ("pieces", &["pieces", "piece", "pcs", "qty", "quantity", "count", "number"]),
    ("metal", &["metal", "material", "grade"]),
    ("thickness", &["thickness", "thk", "t"]),
    ("type", &["type", "joint type"]),
    ("position", &["position", "pos"]),
    ("leg", &["leg", "size", "fillet", "leg size"]),
];

/// The columns of a list without headings, in their order.
const UNHEADED: &str = "joint;metal;thickness;type;position;length;pieces";

/// What a job that is made of a list says of itself.
#[derive(Debug, Clone)]
pub struct Heading {
    /// Its number.
    pub number: String,
    /// Its title.
    pub title: String,
    /// Its date.
    pub date: Date,
    /// The shop that welds it.
    pub shop: Option<String>,
    /// Files and folders with its procedures.
    pub procedures: Vec<String>,
}

/// The text of a job that is made of the joints of a list.
pub fn text(heading: &Heading, joints: &[Value]) -> Result<String> {
    let mut job = json!({
        "format": 1,
        "document": "job",
        "identification": {
            "number": heading.number,
            "revision": 1,
            "date": heading.date.to_string(),
            "title": heading.title,
        },
    });
    if let Some(shop) = &heading.shop {
        job["shop"] = json!(shop);
    }
    if !heading.procedures.is_empty() {
        job["procedures"] = json!(heading.procedures);
    }
    job["joints"] = json!(joints);
    Ok(serde_yaml::to_string(&job)?)
}

/// A list with a line of headings, put before it where its first line has none: a joint, what it is, and how much of it.
pub fn headed(text: &str) -> String {
    let text = text.trim_start_matches(['\u{feff}', '\n', '\r']);
    let first = text.lines().next().unwrap_or_default();
    let cells: Vec<&str> = first.split(MARKS.map(char::from)).collect();
    if cells.iter().filter(|cell| key("", cell).is_ok()).count() > 1 {
        return text.to_owned();
    }
    let all =
        UNHEADED.split(';').take(cells.len().max(6)).collect::<Vec<_>>().join(&char::from(mark(first)).to_string());
    format!("{all}\n{text}")
}

/// What stands between the columns of a list.
const MARKS: [u8; 3] = [b';', b'\t', b','];

/// The mark that a line has most of.
fn mark(line: &str) -> u8 {
    MARKS.into_iter().max_by_key(|mark| line.bytes().filter(|byte| byte == mark).count()).unwrap_or(b',')
}

/// The joints of a table, with commas, semicolons or tabs between its columns; each fault names its line.
pub fn read(name: &str, text: &str) -> Result<Vec<Value>> {
    Ok(placed(name, text)?.into_iter().map(|(_, row)| Value::Object(row)).collect())
}

/// The same, each joint with its line.
pub(crate) fn placed(name: &str, text: &str) -> Result<Vec<(u64, Map<String, Value>)>> {
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().unwrap_or_default();
    if text.trim().is_empty() {
        bail!("{name}: is empty; its first line has the headings, such as {}", USUAL.join(", "));
    }
    let mark = mark(first);
    // Inch marks stand in cells as they are typed: 18" is no quotation.
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(mark)
        .trim(csv::Trim::All)
        .quoting(
            first.contains('"')
                || [",\"", ";\"", "\t\""].iter().any(|own| text.contains(own))
                || text.lines().any(|line| line.starts_with('"')),
        )
        .flexible(true)
        .from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|error| anyhow!("{name}: no line of headings: {error}"))?.clone();
    let keys: Vec<(&str, Option<String>)> = heads.iter().map(|head| key(name, head)).collect::<Result<_>>()?;
    for needed in ["joint", "length"] {
        if !keys.iter().any(|(key, _)| *key == needed) {
            bail!(
                "{name}: no column for the {needed}; the headings are {}",
                heads.iter().collect::<Vec<_>>().join(", ")
            );
        }
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| anyhow!("{name}: {error}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        if record.iter().all(str::is_empty) {
            continue;
        }
        if record.len() > keys.len() {
            bail!("{name}:{line}: {} cells under {} headings", record.len(), keys.len());
        }
        let mut row = Map::new();
        let told = |key: &str, why: String| anyhow!("{name}:{line}: {key}: {why}");
        for ((key, unit), cell) in keys.iter().zip(record.iter()).filter(|(_, cell)| !cell.is_empty()) {
            if mark == b';' && SIZES.contains(key) {
                thousands(cell, unit.as_deref()).map_or(Ok(()), Err).map_err(|why| told(key, why))?;
            }
            let own = value(key, cell, unit.as_deref()).map_err(|why| told(key, why))?;
            row.insert((*key).to_owned(), own);
        }
        // What a word of the trade means hangs on the joint.
        if let Some(word) = row.get("position").and_then(Value::as_str) {
            let kind = row.get("type").and_then(Value::as_str).and_then(|kind| kind.parse().ok());
            let own = position(word, kind).map_err(|why| told("position", why))?;
            row.insert("position".to_owned(), json!(own));
        }
        for needed in ["joint", "length"] {
            if !row.contains_key(needed) {
                bail!("{name}:{line}: the {needed} is missing");
            }
        }
        if rows.len() == JOINTS {
            bail!("{name}:{line}: more than {JOINTS} joints; make several lists of them");
        }
        rows.push((line, row));
    }
    if rows.is_empty() {
        bail!("{name}: no joints");
    }
    Ok(rows)
}

/// The key that a heading means, and the unit of bare numbers below it, where the heading says one: `Length (in)`.
fn key(name: &str, head: &str) -> Result<(&'static str, Option<String>)> {
    let plain = |head: &str| head.trim().trim_end_matches(['.', ':', '#', ',']).trim().to_lowercase();
    let known = |head: &str| {
        let plain = plain(head);
        HEADS.iter().find(|(key, words)| *key == plain || words.contains(&&*plain)).map(|(key, _)| *key)
    };
    let with_unit = || {
        let (head, unit) = head.trim().trim_end_matches([')', ']']).rsplit_once(['(', '[', ' '])?;
        let unit = length(&format!("1 {unit}")).parse::<Range<Length>>().ok()?.unit().symbol;
        let key = known(head).filter(|key| SIZES.contains(key))?;
        Some((key, Some(unit.to_owned())))
    };
    known(head).map(|key| (key, None)).or_else(with_unit).ok_or_else(|| {
        let all: Vec<&str> = HEADS.iter().map(|(key, _)| *key).collect();
        anyhow!(
            "{name}: `{head}` is no heading that is known; the first line has the headings, and the columns are {}; leave others out",
            all.join(", ")
        )
    })
}

/// The headings that a list is told to begin with.
const USUAL: [&str; 4] = ["joint", "length", "pieces", "procedure"];

/// Why millimetres of a list with semicolons cannot be read: where a comma is the decimal mark, 1.500 is 1500.
fn thousands(cell: &str, unit: Option<&str>) -> Option<String> {
    let (number, unit) = match cell.trim().rsplit_once(' ') {
        Some((number, unit)) => (number.trim(), Some(unit)),
        None => match cell.trim().strip_suffix("mm") {
            Some(number) => (number, Some("mm")),
            None => (cell.trim(), unit),
        },
    };
    let (whole, rest) = number.split_once('.')?;
    let digits = |text: &str| text.bytes().all(|digit| digit.is_ascii_digit());
    let either = unit == Some("mm") && rest.len() == 3 && (1..=3).contains(&whole.len());
    (either && digits(whole) && digits(rest) && !whole.starts_with('0')).then(|| {
        let decimal = format!("{whole}.{rest}");
        let decimal = decimal.trim_end_matches('0').trim_end_matches('.');
        format!(
            "`{cell}` has a dot that may mean a decimal point or thousands; write `{decimal} mm` or `{whole}{rest} mm`"
        )
    })
}

/// A length as it is typed in a list, in the words of a document.
pub(crate) fn size(cell: &str) -> Result<String, String> {
    value("length", cell, None).map(|own| own.as_str().unwrap_or_default().to_owned())
}

/// Keys whose value is a length.
const SIZES: [&str; 3] = ["length", "thickness", "leg"];

/// A position by ISO 6947 or AWS, or in a word of the trade: `flat`, `overhead`, which means another one in a groove than of a
/// fillet.
pub fn position(word: &str, kind: Option<JointType>) -> Result<String, String> {
    if positions::get(word).is_some() {
        return Ok(word.to_owned());
    }
    let of = |kind: Kind| trade_words::get(kind, word).map(|row| row.means);
    let (groove, fillet) = (of(Kind::GroovePosition), of(Kind::FilletPosition));
    match (groove, fillet, kind) {
        (Some(groove), Some(fillet), _) if groove == fillet => Ok(groove.to_owned()),
        (Some(own), _, Some(JointType::Butt)) | (_, Some(own), Some(JointType::Tee | JointType::Lap)) => {
            Ok(own.to_owned())
        }
        (Some(groove), Some(fillet), _) => {
            Err(format!("`{word}` is {groove} of a groove and {fillet} of a fillet; write one"))
        }
        _ => {
            let near = positions::nearest(word);
            let near = if near.is_empty() { String::new() } else { format!("; the nearest are {}", near.join(", ")) };
            Err(format!("`{word}` is no position of ISO 6947 or AWS{near}"))
        }
    }
}

/// A number of pieces as people write it: `4`, `x4`, `4 pcs`.
fn pieces(cell: &str) -> Option<u32> {
    let lower = cell.to_lowercase();
    let plain = lower.trim().trim_start_matches(['x', '×']).trim_end_matches(['x', '×', '.']).trim();
    let words = ["each", "ea", "pieces", "piece", "pcs", "pc", "off", "no"];
    let plain = words.iter().find_map(|word| plain.strip_suffix(word)).unwrap_or(plain).trim();
    plain.strip_suffix(".0").unwrap_or(plain).parse().ok().filter(|count| *count > 0)
}

/// A cell as the value of its key; `unit` is that of its column.
fn value(key: &str, cell: &str, unit: Option<&str>) -> Result<Value, String> {
    match key {
        _ if SIZES.contains(&key) => {
            let bare = unit.filter(|unit| {
                length(&format!("{cell} {unit}")).parse::<Range<Length>>().is_ok()
                    && length(cell).parse::<Range<Length>>().is_err()
            });
            let text = bare.map_or_else(|| length(cell), |unit| format!("{} {unit}", cell.trim()));
            let range: Range<Length> = text.parse().map_err(|error| format!("{error}"))?;
            if range.low().or(range.high()).is_none_or(|low| low.mm() <= 0.0) {
                return Err(format!("`{cell}` must be greater than 0"));
            }
            Ok(json!(text))
        }
        "pieces" => match pieces(cell) {
            Some(count) => Ok(json!(count)),
            None => Err(format!("`{cell}` is no number of pieces; write a whole number, 1 or more")),
        },
        "type" => {
            let plain = cell.trim().to_lowercase();
            let word = trade_words::get(Kind::Joint, &plain).map_or(plain.as_str(), |row| row.means);
            let word = word.strip_suffix(" joint").unwrap_or(word);
            word.parse::<JointType>()
                .map(|kind| json!(kind.as_str()))
                .map_err(|_| format!("`{cell}` is no joint; write butt, tee, lap, corner or edge"))
        }
        _ => Ok(json!(cell)),
    }
}

/// A length with the marks of the drawing office written out: `18"` is 18 in, `4'` is 4 ft.
fn length(cell: &str) -> String {
    let cell = cell.trim().replace(['\u{201d}', '\u{2033}'], "\"").replace(['\u{2019}', '\u{2032}'], "'");
    let number = |text: &str| {
        let inches: Range<Length> = format!("{} in", text.trim()).parse().ok()?;
        inches.single().map(Length::inches)
    };
    if let Some((feet, inches)) = cell.split_once('\'') {
        let inches = inches.trim().trim_start_matches('-').trim_end_matches('"').trim();
        if let (Some(feet), Some(inches)) = (number(feet), if inches.is_empty() { Some(0.0) } else { number(inches) }) {
            return format!("{} in", feet * 12.0 + inches);
        }
    }
    if let Some((feet, "ft" | "feet" | "foot")) = cell.rsplit_once(' ')
        && let Some(feet) = number(feet)
    {
        return format!("{} in", feet * 12.0);
    }
    cell.strip_suffix('"').map_or_else(|| cell.clone(), |inches| format!("{} in", inches.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_pasted_from_a_spreadsheet_is_read() {
        for text in [
            "JOINT;WPS;Length;QTY;Leg\nW1;P-1;18\";4;5/16\"\n;;;;\nW2;P-2;4';1;\n",
            "Joint\tProcedure\tLEN\tpcs\tsize\nW1\tP-1\t18\"\t4\t5/16\"\nW2\tP-2\t48 in\t\t\n",
            "joint,procedure,length,count,leg\nW1,P-1,18 in,4,5/16 in\nW2,P-2,4 ft,1,\n",
        ] {
            let rows = read("list.csv", text).unwrap();
            assert_eq!(rows[0]["length"], "18 in", "{text}");
            assert_eq!(rows[0]["leg"], "5/16 in", "{text}");
            assert_eq!((&rows[0]["pieces"], &rows[0]["procedure"]), (&json!(4), &json!("P-1")), "{text}");
            assert_eq!(rows[1]["length"], "48 in", "{text}");
            assert_eq!(rows.len(), 2);
        }
    }

    #[test]
    fn a_list_without_headings_has_the_usual_ones() {
        for text in ["A; S355J2; 10 mm; T; PB; 2.4 m; 4\n", "A\tS355J2\t10 mm\ttee\tPB\t2.4 m\t4"] {
            let rows = read("list", &headed(text)).unwrap();
            assert_eq!(
                rows[0],
                json!({"joint": "A", "metal": "S355J2", "thickness": "10 mm", "type": "tee", "position": "PB", "length": "2.4 m", "pieces": 4})
            );
        }
        let own = "mark;material;qty;length\nA;S355J2;2;1 m\n";
        assert_eq!(headed(own), own);
        assert!(read("list", &headed("A;S355J2\n")).is_err());
    }

    #[test]
    fn a_heading_may_say_the_unit_and_cells_are_read_as_people_write_them() {
        let text = "Joint,WPS,Length (in),Qty,Thk [mm],Leg \"\nW1,P-1,18,x4,8,5/16\nW2,P-1,4'-6\",4 pcs,3/8 in,\nW3,P-1,2 m,4.0,10,.25\n";
        let rows = read("list.csv", text).unwrap();
        let of =
            |key: &str| rows.iter().map(|row| row[key].as_str().unwrap_or_default().to_owned()).collect::<Vec<_>>();
        assert_eq!(of("length"), ["18 in", "54 in", "2 m"]);
        assert_eq!(of("thickness"), ["8 mm", "3/8 in", "10 mm"]);
        assert_eq!(of("leg"), ["5/16 in", "", ".25 in"]);
        assert!(rows.iter().all(|row| row["pieces"] == 4), "{rows:?}");
        assert!(read("list.csv", "joint,length (kg)\nW1,2\n").is_err());
        let error = read("list.csv", "joint,length (in)\nW1,eighteen\n").unwrap_err().to_string();
        assert!(error.contains("list.csv:2: length: `eighteen`"), "{error}");
    }

    #[test]
    fn a_dot_that_means_one_thing_alone_is_read() {
        for (text, length) in [
            ("joint;Length (mm)\nW1;1.50\n", "1.50 mm"),
            ("joint;Length (mm)\nW1;0.500\n", "0.500 mm"),
            ("joint;length\nW1;1.500 m\n", "1.500 m"),
            ("joint,Length (mm)\nW1,1.500\n", "1.500 mm"),
        ] {
            assert_eq!(read("list.csv", text).unwrap()[0]["length"], length, "{text}");
        }
    }

    #[test]
    fn a_word_for_a_position_goes_by_the_joint() {
        for (word, kind, own) in [
            ("flat", None, Ok("PA")),
            ("Overhead", Some(JointType::Tee), Ok("PD")),
            ("overhead", Some(JointType::Butt), Ok("PE")),
            ("horizontal", Some(JointType::Lap), Ok("PB")),
            ("vertical up", None, Ok("PF")),
            ("2F", None, Ok("2F")),
            ("overhead", None, Err("PE of a groove and PD of a fillet")),
            ("sideways", None, Err("no position")),
        ] {
            match (position(word, kind), own) {
                (Ok(found), Ok(own)) => assert_eq!(found, own, "{word}"),
                (Err(found), Err(own)) => assert!(found.contains(own), "{word}: {found}"),
                (found, own) => panic!("{word}: {found:?} is not {own:?}"),
            }
        }
        let rows = read("list.csv", "joint,length,type,pos\nW1,1 m,fillet,overhead\n").unwrap();
        assert_eq!((&rows[0]["type"], &rows[0]["position"]), (&json!("tee"), &json!("PD")));
    }

    #[test]
    fn a_bad_row_is_named_by_its_line() {
        for (text, says) in [
            ("joint,length\nW1,18 in\nW2,eighteen\n", "list.csv:3: length"),
            ("joint,length,qty\nW1,18 in,many\n", "list.csv:2: pieces"),
            ("joint,length\nW1\n", "list.csv:2: the length is missing"),
            ("joint,length,colour\nW1,18 in,red\n", "`colour` is no heading"),
            ("joint,length\nW1,18 in,3,4\n", "list.csv:2: 4 cells"),
            ("joint,length,type\nW1,18 in,lap\nW2,18 in,Lapp\n", "list.csv:3: type: `Lapp` is no joint"),
            ("joint,length,pos\nW1,18 in,9F\n", "list.csv:2: position: `9F` is no position"),
            ("joint,pieces\nW1,3\n", "no column for the length"),
            ("joint,length\n", "no joints"),
            ("", "list.csv: is empty; its first line has the headings, such as joint, length, pieces, procedure"),
            ("\u{feff}\n", "is empty"),
            // Where a comma is the decimal mark, a dot stands between thousands.
            ("joint;Length (mm);qty\nW1;1.500;2\n", "list.csv:2: length: `1.500` has a dot that may mean"),
            ("joint;length\nW1;1.500 mm\n", "write `1.5 mm` or `1500 mm`"),
            (&format!("joint,length\n{}", "W1,1 m\n".repeat(10_001)), "list.csv:10002: more than 10000 joints"),
        ] {
            let error = read("list.csv", text).unwrap_err().to_string();
            assert!(error.contains(says), "{text}: {error}");
        }
    }
}
