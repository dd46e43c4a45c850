//! `issue` and `revise`: seals a revision for use, and raises it for a change.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use seamwright_desk::beside::{Beside, KEPT};
use seamwright_desk::files::{self, Files, Input, reason, shown};
use seamwright_desk::report::Report;
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::edit::{self, Edit};
use seamwright_model::issue;
use seamwright_model::load;
use seamwright_model::procedure::{Procedure, Status};
use serde_json::{Value, json};

use crate::args::{IssueArgs, ReviseArgs};
use crate::report::text;
use crate::{Ending, author_file, output, today};

/// Issues a revision: status, approval, date and seal.
pub fn issue(args: &IssueArgs) -> Result<Ending> {
    let Some((loaded, procedure)) = read(&args.file)? else { return Ok(Ending::Failed) };
    let identification = &procedure.identification;
    if let Some(sealed) = identification.seal.as_deref() {
        if sealed == issue::seal(&procedure) && identification.status == Some(Status::Issued) {
            bail!("{}: revision {} is issued already", shown(&args.file), identification.revision);
        }
        bail!(
            "{}: revision {} was issued with another content; raise it first: seamwright revise {} --why \"what changed\"",
            shown(&args.file),
            identification.revision,
            shown(&args.file)
        );
    }
    // A seal that was taken out does not free the number: what was issued under it lies beside.
    let disk = today::disk();
    if let Some(other) = Beside::new(&disk).issued_otherwise(&Input::typed(&args.file), &loaded) {
        let name = shown(&args.file);
        bail!("{name}: {}; {}", other.words(), other.hint(&name));
    }
    let mut whole = Text::new(&loaded);
    whole.put("/identification/status", json!("issued"))?;
    whole.put("/identification/approved_by", json!(args.by))?;
    whole.put("/identification/date", json!(today().to_string()))?;
    if let Some(last) = procedure.revisions.iter().position(|entry| entry.revision == identification.revision) {
        whole.put(&format!("/revisions/{last}/date"), json!(today().to_string()))?;
    }
    let seal = issue::seal(&procedure_of(&args.file, &whole.text)?);
    whole.put("/identification/seal", json!(seal))?;
    whole.save(&args.file, &loaded)?;
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{}: {} revision {} is issued by {}, sealed {seal}",
        shown(&args.file),
        identification.number,
        identification.revision,
        args.by
    )?;
    Ok(Ending::Clean)
}

/// Raises a revision: keeps the old one and its sheets as superseded, writes the history, clears approval and seal.
pub fn revise(args: &ReviseArgs) -> Result<Ending> {
    let Some((loaded, procedure)) = read(&args.file)? else { return Ok(Ending::Failed) };
    if args.why.trim().is_empty() {
        bail!("--why is empty; say what changes, such as --why \"current raised after the trial\"");
    }
    let identification = &procedure.identification;
    let old = identification.revision.to_string();
    let new = match &args.revision {
        Some(word) if *word == old => bail!("--revision {word} is the revision that the file has"),
        Some(word) => word.clone(),
        None => issue::next_revision(&old).ok_or_else(|| {
            anyhow!("{}: revision `{old}` has no next one; name it with --revision", shown(&args.file))
        })?,
    };
    let whole_seal = identification.seal.as_deref().is_none_or(|sealed| sealed == issue::seal(&procedure));
    let mut out = std::io::stdout().lock();
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let folder = args.file.parent().unwrap_or(Path::new(""));
    let kept = folder.join(KEPT).join(format!("{stem}.rev-{old}.yaml"));
    // The text that was issued is in the file only where its seal holds.
    let keep = whole_seal.then(|| {
        let mut text = Text::new(&loaded);
        text.put("/identification/status", json!("superseded"))?;
        Ok::<String, anyhow::Error>(text.text)
    });
    let keep = keep.transpose()?;
    if keep.is_some() && kept.exists() {
        bail!("{}: is there already; a kept revision is never written over", shown(&kept));
    }
    let sheets = args.sheets.as_deref().map(|folder| sheets_of(folder, &stem, &old)).transpose()?.unwrap_or_default();
    let mut whole = Text::new(&loaded);
    whole.put("/identification/revision", number_or_text(&new))?;
    whole.put("/identification/date", json!(today().to_string()))?;
    whole.put("/identification/status", json!("draft"))?;
    whole.put("/identification/approved_by", json!("not yet approved"))?;
    if identification.seal.is_some() {
        whole.edit(&Edit::Remove { pointer: "/identification/seal".to_owned() })?;
    }
    let mut entry = json!({"revision": number_or_text(&new), "date": today().to_string(), "change": args.why.trim()});
    if let Some(by) = &args.by {
        entry["by"] = json!(by);
    }
    whole.edit(&Edit::Append { pointer: "/revisions".to_owned(), value: entry })?;
    procedure_of(&args.file, &whole.text)?;
    if let Some(text) = keep {
        Text::unchanged(&args.file, &loaded)?;
        output::write(&kept, text.as_bytes())?;
        writeln!(out, "{}: revision {old}, superseded", shown(&kept))?;
    } else {
        writeln!(
            out,
            "{}: the content was changed after revision {old} was issued, so what was issued is not in it; its sheets hold it",
            shown(&args.file)
        )?;
    }
    whole.save(&args.file, &loaded)?;
    for (from, to) in sheets {
        if let Some(parent) = to.parent() {
            fs::create_dir_all(parent).with_context(|| shown(parent))?;
        }
        fs::rename(&from, &to).map_err(|error| anyhow!("{}: cannot be moved: {}", shown(&from), reason(&error)))?;
        writeln!(out, "{}: sheet of revision {old}, superseded", shown(&to))?;
    }
    writeln!(
        out,
        "{}: revision {new}, a draft that is not yet approved; when it is right: seamwright issue {} --by NAME",
        shown(&args.file),
        shown(&args.file)
    )?;
    Ok(Ending::Clean)
}

fn read(path: &Path) -> Result<Option<(Loaded, Procedure)>> {
    let disk = today::disk();
    let input = Input::typed(path);
    match files::open(&disk, &input) {
        Ok((_, Some(_))) => bail!("{}: is a sheet; name the file that it was made from", shown(path)),
        Ok((loaded, None)) => {
            let Document::Procedure(procedure) = &loaded.document else {
                bail!("{}: `document: {}` is not a procedure", shown(path), loaded.document.kind());
            };
            let procedure = (**procedure).clone();
            Ok(Some((loaded, procedure)))
        }
        Err(unread) => {
            text::print(&[Report::unread(input, unread)]);
            Ok(None)
        }
    }
}

fn today() -> seamwright_model::stated::Date {
    today::disk().today()
}

fn number_or_text(word: &str) -> Value {
    match word.parse::<u32>() {
        Ok(number) if number.to_string() == word => json!(number),
        _ => json!(word),
    }
}

fn procedure_of(path: &Path, text: &str) -> Result<Procedure> {
    let loaded = load::load(&shown(path), text.as_bytes()).map_err(|(_, faults)| {
        anyhow!("{}: {}", shown(path), faults.first().map_or("cannot be read", |fault| fault.message.as_str()))
    })?;
    match loaded.document {
        Document::Procedure(procedure) => Ok(*procedure),
        other => bail!("{}: `document: {}` is not a procedure", shown(path), other.kind()),
    }
}

/// The text of a file while it is changed, each change proved.
struct Text {
    text: String,
}

impl Text {
    fn new(loaded: &Loaded) -> Self {
        Self { text: loaded.source.text.to_string() }
    }

    fn edit(&mut self, edit: &Edit) -> Result<()> {
        let done = edit::edit(&self.text, edit).map_err(|refusal| anyhow!("{}: {refusal}", edit.pointer()))?;
        self.text = done.text;
        Ok(())
    }

    /// Writes a value where it stands, or as a new key.
    fn put(&mut self, pointer: &str, value: Value) -> Result<()> {
        let set = Edit::Set { pointer: pointer.to_owned(), value: value.clone() };
        let insert = Edit::Insert { pointer: pointer.to_owned(), value, before: None };
        self.edit(&set).or_else(|_| self.edit(&insert))
    }

    /// Refuses where somebody else has changed the file since it was read.
    fn unchanged(path: &Path, loaded: &Loaded) -> Result<()> {
        let now = fs::read(path).map_err(|error| anyhow!("{}: cannot be read: {}", shown(path), reason(&error)))?;
        if now != loaded.source.text.as_bytes() {
            bail!("{}: was changed by someone else meanwhile; nothing was written, run the command again", shown(path));
        }
        Ok(())
    }

    fn save(&self, path: &Path, loaded: &Loaded) -> Result<()> {
        Self::unchanged(path, loaded)?;
        author_file::write(path, self.text.as_bytes())
            .map_err(|error| anyhow!("{}: cannot be written: {}", shown(path), reason(&error)))
    }
}

/// The sheets of a file in a folder, each with the place where it is kept.
fn sheets_of(folder: &Path, stem: &str, revision: &str) -> Result<Vec<(PathBuf, PathBuf)>> {
    let entries = fs::read_dir(folder).map_err(|error| anyhow!("{}: {}", shown(folder), reason(&error)))?;
    let mut found = Vec::new();
    for entry in entries {
        let entry = entry.with_context(|| shown(folder))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let Some(rest) = name.strip_prefix(stem) else { continue };
        let ending = Path::new(&name).extension();
        let sheet = rest.starts_with('.') && ending.is_some_and(|own| own == "pdf" || own == "html");
        if sheet && entry.file_type().is_ok_and(|kind| kind.is_file()) {
            let to = folder.join(KEPT).join(format!("{stem}.rev-{revision}{rest}"));
            if to.exists() {
                bail!("{}: is there already; a kept sheet is never written over", shown(&to));
            }
            found.push((entry.path(), to));
        }
    }
    found.sort();
    Ok(found)
}

/// Refuses to write sheets of an issued revision over those of the same revision with another content.
///
/// `sheet` is the file that stands there; one that is no sheet of the program is no business of this.
pub fn refuse_same_revision(loaded: &Loaded, input: &Input, sheet: &Path) -> Result<()> {
    let Document::Procedure(new) = &loaded.document else { return Ok(()) };
    let disk = today::disk();
    let Ok((old, Some(_))) = files::open(&disk, &Input::found(sheet.into(), PathBuf::new())) else {
        return Ok(());
    };
    let Document::Procedure(old) = &old.document else { return Ok(()) };
    let (now, then) = (&new.identification, &old.identification);
    let same = now.number == then.number && now.revision == then.revision;
    let issued = then.status == Some(Status::Issued);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_someone_else_wrote_meanwhile_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tray.yaml");
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let before = fs::read_to_string(root.join("procedures/lap-fillet-2-carbon-141.yaml")).unwrap();
        fs::write(&path, &before).unwrap();
        let (loaded, _) = read(&path).unwrap().unwrap();
        let mut whole = Text::new(&loaded);
        whole.put("/identification/revision", json!(2)).unwrap();
        // Someone else saves between reading and writing.
        let theirs = before.replacen("leg: 2 mm", "leg: 2.5 mm", 1);
        assert_ne!(theirs, before);
        fs::write(&path, &theirs).unwrap();
        let refused = whole.save(&path, &loaded).unwrap_err().to_string();
        assert!(refused.contains("changed by someone else") && refused.contains("nothing was written"), "{refused}");
        assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
        // Taken away: said, and not made anew.
        fs::remove_file(&path).unwrap();
        assert!(whole.save(&path, &loaded).unwrap_err().to_string().contains("cannot be read"));
        assert!(!path.exists());
        // As it was read: written.
        fs::write(&path, &before).unwrap();
        whole.save(&path, &loaded).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), whole.text);
    }
}
