//! `issue` and `revise`: seals a revision for use, and raises it for a change.

use std::fs;
use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result, anyhow, bail};
use seamwright_desk::beside::KEPT;
use seamwright_desk::files::{reason, shown};
use seamwright_desk::revise::{self, Change, Raised};
use seamwright_model::{Loaded, issue as seals};

use crate::args::{IssueArgs, ReviseArgs};
use crate::ending::Ending;
use crate::report::refused;
use crate::{author_file, output, results, terminal, today};

/// Issues a revision: status, approval, date and seal.
pub fn issue(args: &IssueArgs) -> Result<Ending> {
    let disk = today::disk();
    let own = match revise::standing(&disk, &args.file) {
        Ok(own) => own,
        Err(why) => return refused(why),
    };
    if args.by.trim().is_empty() {
        bail!("--by is empty; say who approves it, such as --by \"A. Weld\"");
    }
    let issued = revise::issued(&disk, &args.file, &own, &args.by)?;
    save(&args.file, &issued.text, &own.loaded)?;
    if !issued.open.is_empty() {
        let lines: Vec<String> = issued.open.iter().map(ToString::to_string).collect();
        let (values, say) = match issued.open.len() {
            1 => ("1 value".to_owned(), "says"),
            several => (format!("{several} values"), "say"),
        };
        terminal::say(format_args!(
            "{}: caution: {values} still {say} `decide`: lines {}; it is issued as it stands, and the procedure sheet names them as open",
            shown(&args.file),
            lines.join(", ")
        ));
    }
    let identification = &own.procedure.identification;
    writeln!(
        results::out(),
        "{}: {} revision {} is issued by {}, sealed {}",
        shown(&args.file),
        identification.number,
        identification.revision,
        args.by,
        issued.seal
    )?;
    Ok(Ending::Clean)
}

/// Raises a revision: keeps the old one and its sheets as superseded, writes the history, clears approval and seal.
pub fn revise(args: &ReviseArgs) -> Result<Ending> {
    let disk = today::disk();
    let own = match revise::standing(&disk, &args.file) {
        Ok(own) => own,
        Err(why) => return refused(why),
    };
    if args.why.trim().is_empty() {
        bail!("--why is empty; say what changes, such as --why \"current raised after the trial\"");
    }
    if args.by.as_deref().is_some_and(|by| by.trim().is_empty()) {
        bail!("--by is empty; say who revises it, such as --by \"A. Weld\", or leave it out");
    }
    let name = shown(&args.file);
    let old = own.procedure.identification.revision.to_string();
    let new = match &args.revision {
        Some(word) if *word == old => bail!("--revision {word} is the revision that the file has"),
        Some(word) => word.clone(),
        None => seals::next_revision(&old)
            .ok_or_else(|| anyhow!("{name}: revision `{old}` has no next one; name it with --revision"))?,
    };
    let change = Change { revision: &new, why: &args.why, by: args.by.as_deref(), day: today::today() };
    let Raised { text, superseded } = revise::raised(&own.loaded, &change)?;
    revise::procedure_of(&name, &text)?;
    let stem = args.file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let kept = args.file.parent().unwrap_or(Path::new("")).join(KEPT).join(format!("{stem}.rev-{old}.yaml"));
    if superseded.is_some() && kept.exists() {
        bail!("{}: is there already; a kept revision is never written over", shown(&kept));
    }
    let sheets = args.sheets.as_deref().map(|folder| revise::sheets_of(&disk, folder, &stem, &old)).transpose()?;
    let sheets = sheets.unwrap_or_default();
    if let Some((_, to)) = sheets.iter().find(|(_, to)| to.exists()) {
        bail!("{}: is there already; a kept sheet is never written over", shown(to));
    }
    let mut out = results::out();
    if let Some(text) = superseded {
        unchanged(&args.file, &own.loaded)?;
        output::write(&kept, text.as_bytes())?;
        writeln!(out, "{}: revision {old}, superseded", shown(&kept))?;
    } else {
        writeln!(
            out,
            "{name}: the content was changed after revision {old} was issued, so what was issued is not in it; its sheets hold it"
        )?;
    }
    save(&args.file, &text, &own.loaded)?;
    for (from, to) in sheets {
        if let Some(parent) = to.parent() {
            fs::create_dir_all(parent).with_context(|| shown(parent))?;
        }
        fs::rename(&from, &to).map_err(|error| anyhow!("{}: cannot be moved: {}", shown(&from), reason(&error)))?;
        writeln!(out, "{}: sheet of revision {old}, superseded", shown(&to))?;
    }
    writeln!(
        out,
        "{name}: revision {new}, a draft that is not yet approved; when it is right: seamwright issue {name} --by NAME"
    )?;
    Ok(Ending::Clean)
}

/// Refuses where somebody else has changed the file since it was read.
fn unchanged(path: &Path, loaded: &Loaded) -> Result<()> {
    let now = fs::read(path).map_err(|error| anyhow!("{}: cannot be read: {}", shown(path), reason(&error)))?;
    if now != loaded.source.text.as_bytes() {
        bail!("{}: was changed by someone else meanwhile; nothing was written, run the command again", shown(path));
    }
    Ok(())
}

fn save(path: &Path, text: &str, loaded: &Loaded) -> Result<()> {
    unchanged(path, loaded)?;
    author_file::write(path, text.as_bytes())
        .map_err(|error| anyhow!("{}: cannot be written: {}", shown(path), reason(&error)))
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
        let own = revise::standing(&today::disk(), &path).unwrap_or_else(|_| panic!("read"));
        let change = Change { revision: "2", why: "trial", by: None, day: today::today() };
        let raised = revise::raised(&own.loaded, &change).unwrap().text;
        let save = || save(&path, &raised, &own.loaded);
        // Someone else saves between reading and writing.
        let theirs = before.replacen("leg: 2 mm", "leg: 2.5 mm", 1);
        assert_ne!(theirs, before);
        fs::write(&path, &theirs).unwrap();
        let refused = save().unwrap_err().to_string();
        assert!(refused.contains("changed by someone else") && refused.contains("nothing was written"), "{refused}");
        assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
        // Taken away: said, and not made anew.
        fs::remove_file(&path).unwrap();
        assert!(save().unwrap_err().to_string().contains("cannot be read"));
        assert!(!path.exists());
        // As it was read: written.
        fs::write(&path, &before).unwrap();
        save().unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), raised);
    }
}
