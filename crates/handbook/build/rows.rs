//! Rows of tables as Rust: a static slice of the row type that a module declares with `table!`.
//!
//! Row types are read from the modules. A key of a row is the field of that name, or the one marked
//! `#[cfg_attr(false, key = "...")]`; a field may be missing from a row where it is an `Option` or marked
//! `#[cfg_attr(false, optional)]`. A field marked `#[cfg_attr(false, prefix = "diameter_")]` has the keys of its own type
//! behind the prefix. A column marked `printed: true` has no field. A word stands for the variant that is spelt alike but for
//! case and hyphens, or that an attribute renames to it.

#[path = "../src/inches.rs"]
mod inches;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::{fmt::Write as _, fs};

use serde_json::{Map, Value, json};
use syn::{Attribute, Fields, GenericArgument, Item, Meta, PathArguments, Type, UseTree};

/// The words for a basis, and the variants that they stand for.
pub const BASES: [(&str, &str); 4] = [
    ("published", "Published"),
    ("from-memory", "FromMemory"),
    ("common-practice", "CommonPractice"),
    ("web-page", "WebPage"),
];

/// What the modules of the crate define and declare.
#[derive(Default)]
pub struct Modules {
    /// By path, such as `crate::lens_shade`.
    modules: BTreeMap<String, Module>,
}

/// What a module defines and imports.
#[derive(Default)]
struct Module {
    structs: BTreeMap<String, Vec<Field>>,
    enums: BTreeMap<String, Enum>,
    /// Names and the paths that they stand for.
    uses: BTreeMap<String, String>,
}

/// The words for the variants of an enum, with the variants.
struct Enum {
    variants: Vec<(String, String)>,
    /// The variant marked `#[default]`.
    default: Option<String>,
}

/// A field of a row type.
struct Field {
    name: String,
    /// Its key in a row.
    key: String,
    optional: bool,
    /// What stands before the keys of its own type in the row, where they do not stand under a key of their own.
    prefix: Option<String>,
    kind: Type,
}

/// A table as a module declares it.
pub struct Declared {
    /// Its name.
    pub table: String,
    /// The module, such as `crate::lens_shade`.
    pub module: String,
    /// The static that lists it.
    pub info: String,
    /// The function that gives its rows.
    pub rows: String,
    /// The type of its rows.
    pub row: String,
}

impl Modules {
    /// Reads the modules of a folder, and what tables they declare.
    pub fn read(folder: &Path) -> Result<(Self, Vec<Declared>), String> {
        let (mut all, mut declared) = (Self::default(), Vec::new());
        all.take(folder, &mut declared)?;
        declared.sort_by(|own, other| own.table.cmp(&other.table));
        Ok((all, declared))
    }

    fn take(&mut self, folder: &Path, declared: &mut Vec<Declared>) -> Result<(), String> {
        for path in fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()) {
            if path.is_dir() {
                self.take(&path, declared)?;
                continue;
            }
            let stem = path.with_extension("");
            let parts =
                stem.iter().skip_while(|part| *part != "src").skip(1).filter(|part| *part != "mod" && *part != "lib");
            let name = parts.fold("crate".to_owned(), |name, part| format!("{name}::{}", part.to_string_lossy()));
            let text = fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))?;
            let file = syn::parse_file(&text).map_err(|error| format!("{}: {error}", path.display()))?;
            let mut module = Module::default();
            for item in &file.items {
                match item {
                    Item::Struct(own) => drop(module.structs.insert(own.ident.to_string(), fields(&own.fields))),
                    Item::Enum(own) => {
                        let variants = own.variants.iter().map(|one| {
                            let name = one.ident.to_string();
                            (told(&one.attrs, "rename").unwrap_or_else(|| name.clone()), name)
                        });
                        let is_default =
                            |one: &&syn::Variant| one.attrs.iter().any(|own| own.path().is_ident("default"));
                        let default = own.variants.iter().find(is_default).map(|one| one.ident.to_string());
                        module.enums.insert(own.ident.to_string(), Enum { variants: variants.collect(), default });
                    }
                    Item::Use(own) => imported(&own.tree, "", &mut module.uses),
                    Item::Macro(own) if own.mac.path.is_ident("table") => {
                        declared.push(declaration(&name, &own.mac.tokens.to_string()));
                    }
                    _ => {}
                }
            }
            self.modules.insert(name, module);
        }
        Ok(())
    }

    /// The rows of a table as a Rust slice; `Err` says which row does not suit its type, and which of the columns that are only
    /// printed it has a field for.
    pub fn rows(&self, of: &Declared, rows: &[Value], printed: &BTreeSet<String>) -> Result<String, Vec<String>> {
        let fields = self.defined(&of.module, &of.row).map(|(_, path, name)| &self.modules[path].structs[&name]);
        let read = fields.into_iter().flatten().filter(|field| printed.contains(&field.key));
        let mut faults: Vec<_> = read.map(|own| format!("`{}` is printed and has a field", own.key)).collect();
        let mut text = "&[\n".to_owned();
        let kind: Type = syn::parse_str(&of.row).map_err(|error| vec![error.to_string()])?;
        for (index, row) in rows.iter().enumerate() {
            match self.value(&of.module, &kind, row) {
                Ok(own) => {
                    let _ = writeln!(text, "    {own},");
                }
                Err(reason) => faults.push(format!("row {}: {reason}", index + 1)),
            }
        }
        text.push(']');
        if faults.is_empty() { Ok(text) } else { Err(faults) }
    }

    /// The path by which a module names a type, and the module that defines it with its name there.
    fn defined(&self, module: &str, name: &str) -> Option<(String, &str, String)> {
        let (path, own) = self.modules.get_key_value(module)?;
        if let Some((above, name)) = name.rsplit_once("::") {
            return self.defined(own.uses.get(above).map_or(above, String::as_str), name);
        }
        if own.structs.contains_key(name) || own.enums.contains_key(name) {
            return Some((format!("{path}::{name}"), path, name.to_owned()));
        }
        let (above, name) = own.uses.get(name)?.rsplit_once("::")?;
        let (parent, _) = module.rsplit_once("::")?;
        let above = match above.split_once("::").unwrap_or((above, "")) {
            ("crate", _) => above.to_owned(),
            ("super", rest) => format!("{parent}::{rest}").trim_end_matches("::").to_owned(),
            ("self", rest) => format!("{module}::{rest}"),
            _ => format!("{module}::{above}"),
        };
        // Where a module lends a type out, its own may be private.
        let (_, module, own) = self.defined(&above, name)?;
        Some((format!("{above}::{name}"), module, own))
    }

    /// A value as its type, as Rust.
    fn value(&self, module: &str, kind: &Type, value: &Value) -> Result<String, String> {
        let refused = |what: &str| Err(format!("{value} is no {what}"));
        match kind {
            Type::Reference(own) => match &*own.elem {
                Type::Slice(of) => {
                    let items: Vec<Value> = match value {
                        Value::Array(items) => items.clone(),
                        Value::Object(map) => map.iter().map(|(key, value)| json!([key, value])).collect(),
                        _ => return refused("list"),
                    };
                    let items: Result<Vec<_>, _> =
                        items.iter().map(|item| self.value(module, &of.elem, item)).collect();
                    Ok(format!("&[{}]", items?.join(", ")))
                }
                _ => value.as_str().map_or_else(|| refused("text"), |text| Ok(format!("{text:?}"))),
            },
            Type::Tuple(own) => {
                let parts = value.as_array().map_or(&[][..], Vec::as_slice);
                if parts.len() != own.elems.len() {
                    return refused("pair");
                }
                let parts: Result<Vec<_>, _> =
                    own.elems.iter().zip(parts).map(|(kind, part)| self.value(module, kind, part)).collect();
                Ok(format!("({})", parts?.join(", ")))
            }
            Type::Path(own) => {
                let Some(last) = own.path.segments.last() else { return refused("value of a known type") };
                let name = last.ident.to_string();
                match (name.as_str(), inner(&last.arguments)) {
                    ("Option", Some(_)) if value.is_null() => Ok("None".to_owned()),
                    ("Option", Some(of)) => Ok(format!("Some({})", self.value(module, of, value)?)),
                    ("f64", _) => value.as_f64().map_or_else(|| refused("number"), |own| Ok(format!("{own:?}"))),
                    ("u32" | "i32" | "usize", _) if value.is_i64() => Ok(value.to_string()),
                    ("bool", _) if value.is_boolean() => Ok(value.to_string()),
                    ("Basis", _) => {
                        let bases = BASES.map(|(word, variant)| (word.to_owned(), variant.to_owned()));
                        word(&bases, "seamwright_model::finding::Basis", value)
                    }
                    ("Band", _) => range(value).map_or_else(|| refused("figure or pair of figures"), Ok),
                    ("Inches", _) => in_inches(value).map_or_else(|| refused("figure in inches"), Ok),
                    ("Composition", _) => composition(value).map_or_else(|| refused("limits by element"), Ok),
                    _ => {
                        let parts: Vec<String> = own.path.segments.iter().map(|one| one.ident.to_string()).collect();
                        self.defined_value(module, &parts.join("::"), value)
                    }
                }
            }
            _ => refused("value of a known type"),
        }
    }

    /// A value as a type of this crate.
    fn defined_value(&self, module: &str, name: &str, value: &Value) -> Result<String, String> {
        let found = self.defined(module, name);
        let (full, path, name) = found.ok_or_else(|| format!("no type `{name}` is known in {module}"))?;
        let own = &self.modules[path];
        if let Some(own) = own.enums.get(&name) {
            return word(&own.variants, &full, value);
        }
        let row = value.as_object().ok_or_else(|| format!("{value} is no row"))?;
        self.fields(path, &full, &own.structs[&name], row)
    }

    fn fields(&self, module: &str, name: &str, fields: &[Field], row: &Map<String, Value>) -> Result<String, String> {
        let mut row = row.clone();
        for (field, prefix) in fields.iter().filter_map(|field| Some((field, field.prefix.as_ref()?))) {
            let Type::Path(kind) = &field.kind else { continue };
            let found = kind.path.get_ident().and_then(|kind| self.defined(module, &kind.to_string()));
            let (_, path, own) = found.ok_or_else(|| format!("no type of `{}` is known", field.key))?;
            let keys = self.modules[path].structs[&own].iter().map(|part| &part.key);
            let part = keys.filter_map(|key| Some((key.clone(), row.remove(&format!("{prefix}{key}"))?)));
            let part: Map<String, Value> = part.collect();
            row.insert(field.key.clone(), Value::Object(part));
        }
        if let Some(key) = row.keys().find(|key| !fields.iter().any(|field| field.key == **key)) {
            return Err(format!("`{name}` has no field for `{key}`"));
        }
        let values: Result<Vec<String>, String> = fields
            .iter()
            .map(|field| {
                let own = match row.get(&field.key) {
                    Some(value) => {
                        self.value(module, &field.kind, value).map_err(|why| format!("`{}`: {why}", field.key))
                    }
                    None => self.missing(module, field).ok_or_else(|| format!("`{}` is missing", field.key)),
                };
                Ok(format!("{}: {}", field.name, own?))
            })
            .collect();
        Ok(format!("{name} {{ {} }}", values?.join(", ")))
    }

    /// What stands in a field that a row leaves out; nothing where it may not.
    fn missing(&self, module: &str, field: &Field) -> Option<String> {
        match &field.kind {
            Type::Path(own) if own.path.segments.last().is_some_and(|last| last.ident == "Option") => {
                Some("None".to_owned())
            }
            _ if !field.optional => None,
            Type::Reference(own) if matches!(*own.elem, Type::Slice(_)) => Some("&[]".to_owned()),
            Type::Reference(_) => Some("\"\"".to_owned()),
            Type::Path(own) if own.path.is_ident("bool") => Some("false".to_owned()),
            Type::Path(own) if own.path.is_ident("f64") => Some("0.0".to_owned()),
            Type::Path(own) if own.path.is_ident("Composition") => composition(&Value::Object(Map::new())),
            Type::Path(own) => {
                let (full, path, name) = self.defined(module, &own.path.get_ident()?.to_string())?;
                let default = self.modules[path].enums.get(&name)?.default.as_ref()?;
                Some(format!("{full}::{default}"))
            }
            _ => None,
        }
    }
}

/// The variant that a word of a table stands for.
fn word(variants: &[(String, String)], path: &str, value: &Value) -> Result<String, String> {
    let plain = |text: &str| text.replace(['-', ' '], "").to_lowercase();
    let word = value.as_str().map(plain);
    let found = variants.iter().find(|(own, _)| Some(plain(own)) == word);
    found.map(|(_, name)| format!("{path}::{name}")).ok_or_else(|| {
        let words: Vec<&str> = variants.iter().map(|(own, _)| own.as_str()).collect();
        format!("{value} is none of {}", words.join(", "))
    })
}

fn fields(all: &Fields) -> Vec<Field> {
    let named = all.iter().filter_map(|field| Some((field, field.ident.as_ref()?.to_string())));
    named
        .map(|(field, name)| Field {
            key: told(&field.attrs, "key").unwrap_or_else(|| name.clone()),
            name,
            prefix: told(&field.attrs, "prefix"),
            optional: field.attrs.iter().any(|own| marks(own).is_some_and(|text| text.contains("optional"))),
            kind: field.ty.clone(),
        })
        .collect()
}

/// What an attribute that the compiler passes over, or one of serde's, says.
fn marks(attribute: &Attribute) -> Option<String> {
    let Meta::List(list) = &attribute.meta else { return None };
    let name = list.path.get_ident()?.to_string();
    let text = list.tokens.to_string();
    (name == "serde" || (name == "cfg_attr" && text.starts_with("false"))).then_some(text)
}

/// The text of `key = "..."` in such an attribute.
fn told(attributes: &[Attribute], key: &str) -> Option<String> {
    attributes.iter().filter_map(marks).find_map(|text| {
        let rest = text.split_once(&format!("{key} = \""))?.1;
        rest.split_once('"').map(|(own, _)| own.to_owned())
    })
}

fn inner(arguments: &PathArguments) -> Option<&Type> {
    let PathArguments::AngleBracketed(own) = arguments else { return None };
    own.args.iter().find_map(|one| if let GenericArgument::Type(own) = one { Some(own) } else { None })
}

/// Names that a `use` brings in, with the paths that they stand for.
fn imported(tree: &UseTree, above: &str, uses: &mut BTreeMap<String, String>) {
    let path = |name: String| if above.is_empty() { name } else { format!("{above}::{name}") };
    match tree {
        UseTree::Path(own) => imported(&own.tree, &path(own.ident.to_string()), uses),
        UseTree::Name(own) => drop(uses.insert(own.ident.to_string(), path(own.ident.to_string()))),
        UseTree::Rename(own) => drop(uses.insert(own.rename.to_string(), path(own.ident.to_string()))),
        UseTree::Group(own) => own.items.iter().for_each(|one| imported(one, above, uses)),
        UseTree::Glob(_) => {}
    }
}

/// `table!("lens-shade", Row)` or `table!(SERIES, series, "tungsten-current-series", SeriesRow)`.
fn declaration(module: &str, tokens: &str) -> Declared {
    let parts: Vec<&str> = tokens.split(',').map(str::trim).collect();
    let part = |at: usize| parts.get(at).map_or("", |own| own.trim_matches('"')).to_owned();
    let module = module.to_owned();
    if parts.len() == 2 {
        Declared { table: part(0), module, info: "INFO".to_owned(), rows: "rows".to_owned(), row: part(1) }
    } else {
        Declared { table: part(2), module, info: part(0), rows: part(1), row: part(3) }
    }
}

/// A figure, or a pair of figures.
fn range(value: &Value) -> Option<String> {
    let (low, high) = match value.as_array().map(Vec::as_slice) {
        None => (value.as_f64()?, value.as_f64()?),
        Some([low, high]) => (low.as_f64()?, high.as_f64()?),
        Some(_) => return None,
    };
    Some(format!("crate::band::Band::new({low:?}, {high:?})"))
}

/// A figure, or a text such as `1/8` or `1-1/2`.
fn in_inches(value: &Value) -> Option<String> {
    let figure = value.as_str().map_or_else(|| value.as_f64(), inches::read)?;
    Some(format!("crate::measure::Inches({figure:?})"))
}

/// Limits by element: the most, a pair of the least and the most, `{min: ...}`, or `balance`.
fn composition(value: &Value) -> Option<String> {
    let content = |own: &Value| {
        let bound = |own: &Value| own.as_f64().map(|own| format!("Some({own:?})"));
        let none = || "None".to_owned();
        let (min, max) = match own {
            Value::Array(pair) if pair.len() == 2 => (bound(&pair[0])?, bound(&pair[1])?),
            Value::Object(map) if map.len() == 1 => (bound(map.get("min")?)?, none()),
            Value::String(word) if word == "balance" => (none(), none()),
            _ => (none(), bound(own)?),
        };
        Some(format!("crate::composition::Content {{ min: {min}, max: {max} }}"))
    };
    let limits = value.as_object()?.iter().map(|(element, own)| Some(format!("({element:?}, {})", content(own)?)));
    Some(format!("crate::composition::Composition(&[{}])", limits.collect::<Option<Vec<_>>>()?.join(", ")))
}
