//! The templates: those of the top-level `templates/` folder, compiled in, and a user's files over them.
//!
//! Each built-in file is known under its name with the prefix `built-in/`, which is where a name is looked for when no
//! file of the user's has it. A new template is a file and a line in [`BUILT_IN`].

use std::sync::Arc;

use seamwright_drawing::svg::Escaped;
use tera::{Error, ErrorKind, Kwargs, State, StringInput, Tera, Value};

use super::error::HtmlError;
use super::text::{css_string, lines, path_href};

const PREFIX: &str = "built-in/";
/// Suffix of templates, exactly as the engine compares it.
const PAGES: &str = ".html";
/// Suffix of styles.
const STYLES: &str = ".css";

macro_rules! built_in {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../../../templates/", $name)))),*]
    };
}

/// Name and text of every template, sorted by name.
const BUILT_IN: &[(&str, &str)] = built_in![
    "block-columns.html",
    "block-drawings.html",
    "block-fields.html",
    "block-gives-way.html",
    "block-heading.html",
    "block-list.html",
    "block-notice.html",
    "block-page-break.html",
    "block-paragraph.html",
    "block-signatures.html",
    "block-table.html",
    "block-together.html",
    "blocks.html",
    "foot.html",
    "index.css",
    "index.html",
    "index.js",
    "masthead.html",
    "sheet.css",
    "sheet.html",
    "source.html",
];

/// The script of the index page, which no file stands in for: the page allows this very text and no other.
pub(super) const SCRIPT: &str = include_str!("../../../../templates/index.js");

/// The names that a folder of templates may use, sorted, with their built-in texts to start from.
pub fn template_names() -> impl Iterator<Item = (&'static str, &'static str)> {
    BUILT_IN.iter().copied().filter(|(name, _)| is_template(name))
}

fn is_template(name: &str) -> bool {
    is_page(name) || name.ends_with(STYLES)
}

/// Whether a template is HTML, by the suffix that makes the engine escape it.
fn is_page(name: &str) -> bool {
    name.ends_with(PAGES)
}

fn built_in(name: &str) -> Option<&'static str> {
    BUILT_IN.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
}

/// The engine with all templates, the style, and whether any file of the user's is among them.
pub(super) fn load(files: &[(String, String)]) -> Result<(Tera, Styles, bool), HtmlError> {
    let mut tera = Tera::new();
    // `.html` is the only suffix of a template here, and all that ends in it is escaped.
    tera.autoescape_on([PAGES]);
    tera.set_escape_fn(|text, out| write!(out, "{}", Escaped(text)));
    tera.set_fallback_prefixes([PREFIX]).map_err(|error| explain(&error))?;
    tera.register_filter("lines", |text: StringInput<'_>, _: Kwargs, _: &State<'_>| {
        Value::safe_string(&lines(text.as_str()))
    });
    tera.register_filter("css_string", |text: &str, _: Kwargs, _: &State<'_>| css_string(text));
    tera.register_filter("path_href", |text: &str, _: Kwargs, _: &State<'_>| path_href(text));

    let own: Vec<(&str, &str)> = files
        .iter()
        .filter(|(name, _)| is_template(name))
        .map(|(name, text)| (name.as_str(), text.strip_prefix('\u{feff}').unwrap_or(text)))
        .collect();
    for (name, _) in &own {
        let included = || {
            let quoted = [format!("\"{name}\""), format!("'{name}'")];
            own.iter().any(|(_, text)| quoted.iter().any(|quoted| text.contains(quoted.as_str())))
        };
        if built_in(name).is_none() && !included() {
            let file = (*name).to_owned();
            return Err(HtmlError::UnusedTemplate { nearest: nearest(name), file });
        }
    }
    let styles = Styles { sheet: style(&own, "sheet.css")?, index: style(&own, "index.css")? };
    let html = BUILT_IN.iter().filter(|(name, _)| is_page(name));
    let known = html.map(|(name, text)| (format!("{PREFIX}{name}"), *text));
    let pages = own.iter().filter(|(name, _)| is_page(name));
    let all: Vec<(String, &str)> = known.chain(pages.map(|(name, text)| ((*name).to_owned(), *text))).collect();
    // All at once, since they refer to each other.
    tera.add_raw_templates(all).map_err(|error| explain(&error))?;
    Ok((tera, styles, !own.is_empty()))
}

/// The styles of the pages.
#[derive(Debug, Clone)]
pub(super) struct Styles {
    /// Of a sheet; the index starts from it.
    pub sheet: Arc<str>,
    /// What the index adds.
    pub index: Arc<str>,
}

/// A style, the user's or the built-in one, without comments and indents.
fn style(own: &[(&str, &str)], name: &str) -> Result<Arc<str>, HtmlError> {
    let text = own.iter().rfind(|(known, _)| *known == name).map(|(_, text)| *text);
    let text = text.or_else(|| built_in(name)).unwrap_or_default();
    // Anything that looks like an end tag would end the style element.
    if let Some(index) = text.find("</") {
        let line = text.get(..index).map(|before| before.matches('\n').count() + 1);
        let reason = "\"</\" would end the style inside the page".to_owned();
        return Err(HtmlError::Template { file: name.to_owned(), line, reason });
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, comment)) = rest.split_once("/*") {
        out.push_str(before);
        rest = comment.split_once("*/").map_or("", |(_, after)| after);
    }
    out.push_str(rest);
    let lines: Vec<&str> = out.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    Ok(lines.join("\n").into())
}

/// The built-in name that differs from `name` in few characters.
fn nearest(name: &str) -> Option<String> {
    let near = |known: &str| {
        let common = |a: &str, b: &str| a.bytes().zip(b.bytes()).take_while(|(a, b)| a == b).count();
        let reversed = |text: &str| text.chars().rev().collect::<String>();
        let shared = common(name, known) + common(&reversed(name), &reversed(known));
        // Both ends agree but for two characters: a letter too many, too few, wrong or swapped.
        shared + 2 >= name.len().max(known.len())
    };
    template_names().map(|(known, _)| known).find(|known| near(known)).map(str::to_owned)
}

/// An error of the engine with file and line.
pub(super) fn explain(error: &Error) -> HtmlError {
    let template = |file: &str, line: Option<usize>, reason: String| HtmlError::Template {
        file: file.strip_prefix(PREFIX).unwrap_or(file).to_owned(),
        line,
        reason,
    };
    match error.kind() {
        ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => {
            template(report.filename(), Some(report.span().start_line), report.message().to_owned())
        }
        ErrorKind::CircularExtend { tpl, .. } => template(tpl, None, "it extends itself".to_owned()),
        ErrorKind::CircularInclude { tpl, include_chain } => {
            let chain: Vec<&str> = include_chain.iter().map(|name| name.strip_prefix(PREFIX).unwrap_or(name)).collect();
            template(tpl, None, format!("it includes itself, by way of {}", chain.join(", ")))
        }
        ErrorKind::MissingParent { current, parent } => {
            template(current, None, format!("it extends \"{parent}\", which is not there"))
        }
        ErrorKind::Msg(message) => reported(message).map_or_else(
            || template("templates", None, message.clone()),
            |(file, line, reason)| template(file, Some(line), reason.to_owned()),
        ),
        other => template("templates", None, other.to_string()),
    }
}

/// File, line and reason of the first fault in a report of several, which the engine gives as text only.
fn reported(message: &str) -> Option<(&str, usize, &str)> {
    let mut lines = message.lines();
    let reason = lines.next()?.strip_prefix("error: ")?;
    let (_, place) = lines.next()?.split_once("--> ")?;
    let (place, _column) = place.rsplit_once(':')?;
    let (file, line) = place.rsplit_once(':')?;
    Some((file, line.parse().ok()?, reason))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_is_sorted_and_names_are_unique() {
        assert!(BUILT_IN.windows(2).all(|pair| pair[0].0 < pair[1].0));
    }

    #[test]
    fn a_style_loses_its_comments_but_not_its_rules() {
        let own = [("sheet.css", "/* a */\n  p { color: red }\n\n/* b\n c */ q { margin: 0 } /* open")];
        assert_eq!(&*style(&own, "sheet.css").unwrap(), "p { color: red }\nq { margin: 0 }");
    }
}
