//! The bill of materials of the binary, in the JSON of `CycloneDX` 1.5.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context, Result};
use serde_json::{Value, json};

use crate::tools::{cargo, printed};

/// The package whose binary is handed out.
const BINARY: &str = "seamwright-cli";

/// Every crate that is built into the binary for `target`, with version, licence and where it comes from.
pub fn of(target: &str) -> Result<Value> {
    let text = printed(cargo().args(["metadata", "--format-version=1", "--locked", "--filter-platform", target]))?;
    let metadata: Value = serde_json::from_slice(&text)?;
    let list = |value: &'_ Value, key: &str| value[key].as_array().cloned().unwrap_or_default();
    let packages: BTreeMap<String, Value> =
        list(&metadata, "packages").into_iter().map(|package| (id(&package["id"]), package)).collect();
    let needs: BTreeMap<String, Vec<String>> = list(&metadata["resolve"], "nodes")
        .iter()
        .map(|node| {
            // What only tests or build scripts need is not in the binary.
            let linked = |dep: &Value| list(dep, "dep_kinds").iter().any(|kind| kind["kind"].is_null());
            (id(&node["id"]), list(node, "deps").iter().filter(|dep| linked(dep)).map(|dep| id(&dep["pkg"])).collect())
        })
        .collect();
    let root = packages.values().find(|package| package["name"] == BINARY).context("the workspace has no binary")?;
    let mut left = vec![id(&root["id"])];
    let mut inside = BTreeSet::new();
    while let Some(next) = left.pop() {
        if inside.insert(next.clone()) {
            left.extend(needs.get(&next).into_iter().flatten().cloned());
        }
    }
    let component = |package: &Value| {
        let (name, version) = (&package["name"], &package["version"]);
        let mut own = json!({"type": "library", "name": name, "version": version});
        if package["source"].is_string() {
            let purl =
                format!("pkg:cargo/{}@{}", name.as_str().unwrap_or_default(), version.as_str().unwrap_or_default());
            own["purl"] = json!(purl);
            own["bom-ref"] = json!(purl);
        }
        if let Some(licence) = package["license"].as_str() {
            own["licenses"] = json!([{"expression": licence.replace('/', " OR ")}]);
        }
        own
    };
    let components: Vec<Value> = inside
        .iter()
        .filter(|own| **own != id(&root["id"]))
        .filter_map(|own| packages.get(own))
        .map(component)
        .collect();
    Ok(json!({
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "version": 1,
        "metadata": {"component": {"type": "application", "name": "seamwright", "version": root["version"]}},
        "components": components,
    }))
}

fn id(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}
