//! The pages: templates of `templates/serve`, compiled in, and the files that they load.

use serde::Serialize;
use tera::{Context, Tera};

macro_rules! built_in {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../../templates/serve/", $name)))),*]
    };
}

/// Name and text of every page and of what they include.
const PAGES: &[(&str, &str)] = built_in![
    "arrived.html",
    "base.html",
    "below.html",
    "bench.html",
    "change.html",
    "code.html",
    "compare.html",
    "compared.html",
    "document.html",
    "field.html",
    "folder.html",
    "form.html",
    "group.html",
    "input.html",
    "job.html",
    "new.html",
    "position.html",
    "print.html",
    "review.html",
    "section.html",
    "shop.html",
    "trouble.html",
];

/// Name, kind and text of every file that pages load.
pub const FILES: &[(&str, &str, &str)] = &[
    ("serve.css", "text/css; charset=utf-8", include_str!("../../../templates/serve/serve.css")),
    ("page.js", "text/javascript; charset=utf-8", include_str!("../../../templates/serve/page.js")),
    ("document.js", "text/javascript; charset=utf-8", include_str!("../../../templates/serve/document.js")),
    ("idiomorph.js", "text/javascript; charset=utf-8", include_str!("../../../templates/serve/vendor/idiomorph.js")),
    ("editor.js", "text/javascript; charset=utf-8", include_str!("../../../templates/serve/vendor/editor.js")),
    ("icon.svg", "image/svg+xml", include_str!("../../../templates/serve/icon.svg")),
];

/// The templates.
#[derive(Debug)]
pub struct Pages(Tera);

impl Pages {
    /// Reads the templates. Fails where one is no template, which the tests exclude.
    pub fn new() -> Result<Self, String> {
        let mut tera = Tera::new();
        tera.autoescape_on([".html"]);
        tera.add_raw_templates(PAGES.iter().copied()).map_err(|error| error.to_string())?;
        Ok(Self(tera))
    }

    /// A page made of values.
    pub fn page(&self, name: &str, values: &impl Serialize) -> Result<String, String> {
        let context = Context::from_serialize(values).map_err(|error| error.to_string())?;
        self.0.render(name, &context).map_err(|error| format!("{error:?}"))
    }
}

/// Values as JSON inside a page: nothing in them ends the element that holds them.
pub fn data(values: &impl Serialize) -> String {
    serde_json::to_string(values).unwrap_or_default().replace('<', "\\u003c")
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_templates_are_templates_and_load_nothing_from_elsewhere() {
        super::Pages::new().unwrap();
        for (name, text) in super::PAGES {
            for outside in ["http://", "https://", "//cdn", "<style", " style=\"", " onclick"] {
                // A review is a page of its own, for whoever gets it.
                let own = *name == "review.html" && outside == "<style";
                assert!(own || !text.contains(outside), "{name}: {outside}");
            }
        }
        for (name, _, text) in super::FILES {
            let own = !matches!(*name, "icon.svg" | "editor.js" | "idiomorph.js");
            assert!(!own || !text.contains("http"), "{name}");
        }
    }
}
