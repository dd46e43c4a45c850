//! A revision sealed for use, and raised for a change: the texts that are to be written, each change of them proved.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};
use seamwright_model::document::Document;
use seamwright_model::edit::{self, Edit};
use seamwright_model::procedure::{Procedure, Status};
use seamwright_model::stated::Date;
use seamwright_model::{Loaded, issue, load};
use serde_json::{Value, json};

use crate::beside::{Beside, KEPT};
use crate::files::{self, Files, Input, Kind, reason, shown};
use crate::report::{Refused, Report};

/// A procedure as it stands in its file.
pub struct Standing {
    /// The file with its text.
    pub loaded: Loaded,
    /// The procedure.
    pub procedure: Procedure,
}

/// Reads the procedure of a file.
pub fn standing(files: &dyn Files, path: &Path) -> Result<Standing, Refused> {
    let input = Input::typed(path);
    let words = |words: String| Err(Refused::Words(words));
    match files::open(files, &input) {
        Ok((_, Some(_))) => words(format!("{}: is a sheet; name the file that it was made from", shown(path))),
        Ok((loaded, None)) => match &loaded.document {
            Document::Procedure(procedure) => Ok(Standing { procedure: (**procedure).clone(), loaded }),
            other => words(format!("{}: `document: {}` is not a procedure", shown(path), other.kind())),
        },
        Err(unread) => Err(Refused::Unread(vec![Report::unread(input, unread)])),
    }
}

/// A revision that is issued.
pub struct Issued {
    /// The text of the file.
    pub text: String,
    /// The seal of its content.
    pub seal: String,
    /// The lines whose remark still says `decide`.
    pub open: Vec<usize>,
}

/// Remarks of a draft that are not true of what is issued, as `draft` writes them.
const OF_A_DRAFT: [&str; 2] = ["until someone signs it", "decide: revision and date"];

/// A text without the remarks that issuing makes untrue.
fn settled(text: &str) -> String {
    let line = |line: &str| match line.split_once('#') {
        Some((value, remark)) if !value.trim().is_empty() && OF_A_DRAFT.contains(&remark.trim()) => {
            let ending = if line.ends_with("\r\n") { "\r\n" } else { "\n" };
            format!("{}{ending}", value.trim_end())
        }
        _ => line.to_owned(),
    };
    text.split_inclusive('\n').map(line).collect()
}

/// The lines, from 1, whose remark leaves something to decide.
fn to_decide(text: &str) -> Vec<usize> {
    let open = |line: &str| line.split_once('#').is_some_and(|(_, remark)| remark.contains("decide:"));
    text.lines().enumerate().filter(|(_, line)| open(line)).map(|(index, _)| index + 1).collect()
}

/// Issues a revision: status, approval, date and seal.
pub fn issued(files: &dyn Files, path: &Path, own: &Standing, by: &str) -> Result<Issued> {
    let (Standing { loaded, procedure }, name) = (own, shown(path));
    let identification = &procedure.identification;
    let revision = &identification.revision;
    if let Some(sealed) = identification.seal.as_deref() {
        if sealed == issue::seal(procedure) && identification.status == Some(Status::Issued) {
            bail!("{name}: revision {revision} is issued already");
        }
        bail!(
            "{name}: revision {revision} was issued with another content; raise it first: seamwright revise {name} --why \"what changed\""
        );
    }
    // A seal that was taken out does not free the number: what was issued under it lies beside.
    if let Some(other) = Beside::new(files).issued_otherwise(&Input::typed(path), loaded) {
        bail!("{name}: {}; {}", other.words(), other.hint(&name));
    }
    let today = json!(files.today().to_string());
    let mut text = Text::new(loaded);
    text.put("/identification/status", json!("issued"))?;
    text.put("/identification/approved_by", json!(by))?;
    text.put("/identification/date", today.clone())?;
    if let Some(last) = procedure.revisions.iter().position(|entry| entry.revision == *revision) {
        text.put(&format!("/revisions/{last}/date"), today)?;
    }
    let seal = issue::seal(&procedure_of(&name, &text.0)?);
    text.put("/identification/seal", json!(seal))?;
    // Only remarks may go: the content is the same, or the text stays as it is.
    let settled = settled(&text.0);
    let same = procedure_of(&name, &settled).is_ok_and(|own| procedure_of(&name, &text.0).is_ok_and(|old| own == old));
    let text = if same { settled } else { text.0 };
    Ok(Issued { open: to_decide(&text), text, seal })
}

/// Why a revision is raised, and to which.
#[derive(Debug, Clone, Copy)]
pub struct Change<'c> {
    /// The new revision.
    pub revision: &'c str,
    /// The entry in the history.
    pub why: &'c str,
    /// Who changes it.
    pub by: Option<&'c str>,
    /// The day.
    pub day: Date,
}

/// A revision that is raised.
pub struct Raised {
    /// The text of the file: a draft that is not yet approved.
    pub text: String,
    /// What was issued, as superseded; nothing where the content was changed since, so that the text does not hold it.
    pub superseded: Option<String>,
}

/// Raises the revision of a document: writes the history where it has one, clears approval and seal.
pub fn raised(loaded: &Loaded, change: &Change<'_>) -> Result<Raised> {
    let (document, today) = (&loaded.document, json!(change.day.to_string()));
    let identification = document.identification();
    let whole = match document {
        Document::Procedure(own) => identification.seal.as_deref().is_none_or(|sealed| sealed == issue::seal(own)),
        _ => true,
    };
    let superseded = whole.then(|| {
        let mut text = Text::new(loaded);
        text.put("/identification/status", json!("superseded")).map(|()| text.0)
    });
    let revision = number_or_text(change.revision);
    let mut text = Text::new(loaded);
    text.put("/identification/revision", revision.clone())?;
    text.put("/identification/date", today.clone())?;
    text.put("/identification/status", json!("draft"))?;
    let is_procedure = matches!(document, Document::Procedure(_));
    if is_procedure || identification.approved_by.is_some() {
        text.put("/identification/approved_by", json!("not yet approved"))?;
    }
    if identification.seal.is_some() {
        text.edit(&Edit::Remove { pointer: "/identification/seal".to_owned() })?;
    }
    if is_procedure || matches!(document, Document::Shop(_)) {
        let mut entry = json!({"revision": revision, "date": today, "change": change.why.trim()});
        if let Some(by) = change.by {
            entry["by"] = json!(by);
        }
        text.edit(&Edit::Append { pointer: "/revisions".to_owned(), value: entry })?;
    }
    Ok(Raised { text: text.0, superseded: superseded.transpose()? })
}

fn number_or_text(word: &str) -> Value {
    match word.parse::<u32>() {
        Ok(number) if number.to_string() == word => json!(number),
        _ => json!(word),
    }
}

/// The procedure of a text.
pub fn procedure_of(name: &str, text: &str) -> Result<Procedure> {
    let loaded = load::load(name, text.as_bytes()).map_err(|(_, faults)| {
        anyhow!("{name}: {}", faults.first().map_or("cannot be read", |fault| fault.message.as_str()))
    })?;
    match loaded.document {
        Document::Procedure(procedure) => Ok(*procedure),
        other => bail!("{name}: `document: {}` is not a procedure", other.kind()),
    }
}

/// The text of a file while it is changed, each change proved.
struct Text(String);

impl Text {
    fn new(loaded: &Loaded) -> Self {
        Self(loaded.source.text.to_string())
    }

    fn edit(&mut self, edit: &Edit) -> Result<()> {
        self.0 = edit::edit(&self.0, edit).map_err(|refusal| anyhow!("{}: {refusal}", edit.pointer()))?.text;
        Ok(())
    }

    /// Writes a value where it stands, or as a new key.
    fn put(&mut self, pointer: &str, value: Value) -> Result<()> {
        let set = Edit::Set { pointer: pointer.to_owned(), value: value.clone() };
        let insert = Edit::Insert { pointer: pointer.to_owned(), value, before: None };
        self.edit(&set).or_else(|_| self.edit(&insert))
    }
}

/// The sheets of a file in a folder, each with the place where it is kept as superseded.
pub fn sheets_of(files: &dyn Files, folder: &Path, stem: &str, revision: &str) -> Result<Vec<(PathBuf, PathBuf)>> {
    let listed = files.list(folder).map_err(|error| anyhow!("{}: {}", shown(folder), reason(&error)))?;
    let of = |path: PathBuf| {
        let name = path.file_name()?.to_string_lossy().into_owned();
        let rest = name.strip_prefix(stem)?;
        let ending = path.extension();
        let sheet = rest.starts_with('.') && ending.is_some_and(|own| own == "pdf" || own == "html");
        sheet.then(|| (path, folder.join(KEPT).join(format!("{stem}.rev-{revision}{rest}"))))
    };
    Ok(listed.into_iter().filter(|own| own.kind == Kind::File).filter_map(|own| of(own.path)).collect())
}

/// Refuses to write over sheets of an issued revision: with another content of it, or with another procedure.
///
/// `sheet` is the file that stands there; one that is no sheet of the program is no business of this.
pub fn refuse_same_revision(files: &dyn Files, loaded: &Loaded, input: &Input, sheet: &Path) -> Result<()> {
    let Document::Procedure(new) = &loaded.document else { return Ok(()) };
    let Ok((old, Some(_))) = files::open(files, &Input::found(sheet.into(), PathBuf::new())) else {
        return Ok(());
    };
    let Document::Procedure(old) = &old.document else { return Ok(()) };
    let (now, then) = (&new.identification, &old.identification);
    let same = now.number == then.number && now.revision == then.revision;
    let issued = then.status == Some(Status::Issued);
    if issued && now.number != then.number {
        bail!(
            "{}: {} shows revision {} of {} as it was issued: the sheet of another procedure is not written over; rename one of the files, or render into another folder with --out",
            input.name,
            shown(sheet),
            then.revision,
            then.number
        );
    }
    if same && issued && issue::seal(&**new) != issue::seal(&**old) {
        bail!(
            "{}: {} shows revision {} of {} as it was issued, and the content is another now: its sheet is not written over; raise the revision: seamwright revise {} --why \"what changed\"",
            input.name,
            shown(sheet),
            then.revision,
            then.number,
            input.name
        );
    }
    Ok(())
}
