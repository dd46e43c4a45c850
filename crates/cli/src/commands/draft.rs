//! `draft`: a starting procedure from a few facts, as commented YAML on standard output; with what a shop has, where one is
//! given. Drafts of a lesson and of a shop file, too.

use std::io::{BufRead, Write};
use std::path::Path;

use anyhow::{Result, anyhow, bail};
use seamwright_desk::{companions, editors};
use seamwright_draft::{Choices, Facts, Question, ShopAnswers, Typed};
use seamwright_model::document::Document;

use crate::Ending;
use crate::args::DraftArgs;
use crate::output;
use crate::report::text;
use crate::today;

/// Runs the command.
pub fn run(args: DraftArgs) -> Result<Ending> {
    if let Some(procedure) = &args.lesson {
        return lesson(procedure, args.learners, args.booths);
    }
    if let Some(procedure) = &args.record {
        return record(procedure, args.code.as_deref());
    }
    if args.shop_file {
        let page = editors::with_line(&shop_file(&mut std::io::stdin().lock(), &mut std::io::stderr())?);
        std::io::stdout().lock().write_all(page.as_bytes())?;
        return Ok(Ending::Clean);
    }
    if args.metal.len() > 2 {
        bail!("--metal is given {} times: two metals meet at a joint", args.metal.len());
    }
    let mut metals = args.metal.into_iter();
    let mut typed = Typed {
        process: args.process.unwrap_or_default(),
        metal: metals.next().unwrap_or_default(),
        to: metals.next(),
        thickness: args.thickness.unwrap_or_default(),
        joint: args.joint.unwrap_or_default(),
        position: args.position.unwrap_or_default(),
        diameter: args.diameter,
    };
    let choices = Choices {
        backing: args.backing,
        detail: args.detail,
        code: args.code,
        leg: args.leg,
        filler: args.filler,
        size: args.filler_diameter,
        gas: args.gas,
        machine: args.machine,
    };
    let stdin = std::io::stdin();
    if args.interactive {
        ask(&mut typed, &mut stdin.lock(), &mut std::io::stderr())?;
    } else if let Some(missing) = missing(&typed) {
        bail!(missing);
    }
    let shop = match args.shop.as_deref().map(|path| companions::shop(&today::disk(), path)).transpose() {
        Ok(shop) => shop,
        Err(unread) => {
            text::print(&[*unread]);
            return Ok(Ending::Failed);
        }
    };
    let page = Facts::read_with(&typed, &choices)
        .map(|facts| match &args.number {
            Some(number) => facts.numbered(number),
            None => facts,
        })
        .and_then(|facts| match &shop {
            Some(shop) => seamwright_draft::draft_in_shop(&facts, shop),
            None => seamwright_draft::draft(&facts),
        })
        .map_err(|refused| refused.with_alternatives(&typed, &choices, shop.as_deref()));
    let page = match page {
        Ok(page) => editors::with_line(&page),
        // What was answered is not lost: it stands as a command to change one word of.
        Err(refused) if args.interactive => bail!("{refused}\nwhat was answered: {}", command(&typed)),
        Err(refused) => return Err(refused.into()),
    };
    if args.interactive {
        return written(&typed, &page, &mut stdin.lock(), &mut std::io::stderr());
    }
    std::io::stdout().lock().write_all(page.as_bytes())?;
    Ok(Ending::Clean)
}

/// What is missing, and how a draft is asked for; nothing where all is there.
fn missing(typed: &Typed) -> Option<String> {
    let needed = [Question::Process, Question::Metal, Question::Thickness, Question::Joint, Question::Position];
    let open: Vec<Question> = needed.into_iter().filter(|own| !own.answered(typed)).collect();
    if open.is_empty() {
        return None;
    }
    let lines: Vec<String> = open.iter().map(|own| format!("  {:<12} {}", own.option(), own.help())).collect();
    Some(format!(
        "a draft needs five facts; missing here:\n{}\nfor example: seamwright draft --process 135 --metal \"mild steel\" --thickness \"3 mm\" --joint tee --position PB\nor let it ask: seamwright draft --interactive",
        lines.join("\n")
    ))
}

/// The command that gives the same facts.
fn command(typed: &Typed) -> String {
    let mut words = vec!["seamwright draft".to_owned()];
    let mut add = |question: Question, value: &str| {
        if !value.is_empty() {
            words.push(format!("{} \"{value}\"", question.option()));
        }
    };
    add(Question::Process, &typed.process);
    add(Question::Metal, &typed.metal);
    add(Question::To, typed.to.as_deref().unwrap_or_default());
    add(Question::Thickness, &typed.thickness);
    add(Question::Joint, &typed.joint);
    add(Question::Diameter, typed.diameter.as_deref().unwrap_or_default());
    add(Question::Position, &typed.position);
    words.join(" ")
}

/// Asks for each fact that is not given and judges each answer at once; an empty answer takes what stands in brackets, `?`
/// explains, `<` goes back.
fn ask(typed: &mut Typed, answers: &mut impl BufRead, questions: &mut impl Write) -> Result<()> {
    let metal_given = Question::Metal.answered(typed);
    let open: Vec<Question> =
        Question::ALL.into_iter().filter(|own| !(own.answered(typed) || *own == Question::To && metal_given)).collect();
    let before = typed.clone();
    writeln!(questions, "An empty answer takes what stands in brackets; ? explains, < goes back.")?;
    let mut at = 0;
    while let Some(question) = open.get(at).copied() {
        let usual = question.usual(typed);
        let choices = question.choices(typed);
        let listed = if choices.is_empty() { String::new() } else { format!(" ({})", choices.join(", ")) };
        write!(questions, "{}{listed} [{usual}]: ", question.words())?;
        questions.flush()?;
        let mut line = String::new();
        if answers.read_line(&mut line)? == 0 {
            bail!("the answers ended before `{}`; what was answered: {}", question.words(), command(typed));
        }
        match line.trim() {
            "?" => writeln!(questions, "  {}", question.help())?,
            "<" => {
                at = at.saturating_sub(1);
                if let Some(previous) = open.get(at) {
                    cleared(typed, *previous, &before);
                }
            }
            answer => {
                let answer = if answer.is_empty() { usual.as_str() } else { answer };
                match question.answer(typed, answer) {
                    Ok(()) => at += 1,
                    Err(why) => writeln!(questions, "  {why}")?,
                }
            }
        }
    }
    Ok(())
}

/// Takes an answer back.
fn cleared(typed: &mut Typed, question: Question, before: &Typed) {
    match question {
        Question::Process => typed.process.clone_from(&before.process),
        Question::Metal => typed.metal.clone_from(&before.metal),
        Question::To => typed.to.clone_from(&before.to),
        Question::Thickness => typed.thickness.clone_from(&before.thickness),
        Question::Joint => typed.joint.clone_from(&before.joint),
        Question::Diameter => typed.diameter.clone_from(&before.diameter),
        Question::Position => typed.position.clone_from(&before.position),
    }
}

/// Asks for the file and writes the page there; where nothing more is answered, or `-`, it goes to standard output.
fn written(typed: &Typed, page: &str, answers: &mut impl BufRead, questions: &mut impl Write) -> Result<Ending> {
    let words = [&typed.joint, &typed.thickness, &typed.metal, &typed.process];
    let name = words.map(|word| word.to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), "-")).join("-");
    let usual = format!("{name}.yaml");
    let mut refused: Option<String> = None;
    loop {
        write!(questions, "file to write, - for the screen [{usual}]: ")?;
        questions.flush()?;
        let mut line = String::new();
        let ended = answers.read_line(&mut line)? == 0;
        let answer = line.trim();
        if ended || answer == "-" {
            std::io::stdout().lock().write_all(page.as_bytes())?;
            return Ok(Ending::Clean);
        }
        let file = if answer.is_empty() { usual.as_str() } else { answer };
        let path = Path::new(file);
        if path.exists() && refused.as_deref() != Some(file) {
            writeln!(questions, "  {file} is there already: the same name again replaces it")?;
            refused = Some(file.to_owned());
            continue;
        }
        match output::write(path, page.as_bytes()) {
            Ok(()) => {
                writeln!(questions, "  written to {file}; check it: seamwright check \"{file}\"")?;
                return Ok(Ending::Clean);
            }
            Err(why) => writeln!(questions, "  {why:#}")?,
        }
    }
}

/// Writes the test record that a procedure needs, to be filled in.
fn record(file: &Path, code: Option<&str>) -> Result<Ending> {
    let code = code.map(str::parse).transpose().map_err(anyhow::Error::msg)?;
    let source = std::fs::read(file).map_err(|error| anyhow!("{}: {error}", file.display()))?;
    let name = file.display().to_string();
    let loaded = seamwright_model::load(&name, &source).map_err(|(_, faults)| {
        let first = faults.into_iter().next().map_or("it cannot be read".to_owned(), |fault| fault.message);
        anyhow!("{name}: {first}")
    })?;
    let Document::Procedure(procedure) = &loaded.document else {
        bail!("{name}: a test record is made for a procedure, and this is a {}", loaded.document.kind());
    };
    let page = editors::with_line(&seamwright_draft::record(procedure, code).map_err(|why| anyhow!("{name}: {why}"))?);
    std::io::stdout().lock().write_all(page.as_bytes())?;
    Ok(Ending::Clean)
}

/// Writes a lesson that teaches a procedure.
fn lesson(file: &Path, learners: u32, booths: u32) -> Result<Ending> {
    let source = std::fs::read(file).map_err(|error| anyhow!("{}: {error}", file.display()))?;
    let name = file.display().to_string();
    let loaded = seamwright_model::load(&name, &source).map_err(|(_, faults)| {
        let first = faults.into_iter().next().map_or("it cannot be read".to_owned(), |fault| fault.message);
        anyhow!("{name}: {first}")
    })?;
    let Document::Procedure(procedure) = &loaded.document else {
        bail!("{name}: a lesson teaches a procedure, and this is a {}", loaded.document.kind());
    };
    let page = editors::with_line(&seamwright_draft::lesson(procedure, &name.replace('\\', "/"), learners, booths));
    std::io::stdout().lock().write_all(page.as_bytes())?;
    Ok(Ending::Clean)
}

/// Asks what a shop has; where nothing more is answered, the rest is taken as it stands in brackets.
fn shop_file(answers: &mut impl BufRead, questions: &mut impl Write) -> Result<String> {
    let mut own = ShopAnswers::default();
    let fields: [(&str, &mut String); 8] = [
        ("name of the shop", &mut own.name),
        ("a machine", &mut own.machine),
        ("its processes, with commas", &mut own.processes),
        ("its range of current", &mut own.current),
        ("its duty cycle", &mut own.duty),
        ("a torch and its size", &mut own.torch),
        ("fillers in stock, with semicolons", &mut own.fillers),
        ("labour per hour", &mut own.labour),
    ];
    for (words, field) in fields {
        write!(questions, "{words} [{field}]: ")?;
        questions.flush()?;
        let mut line = String::new();
        if answers.read_line(&mut line)? == 0 {
            break;
        }
        if !line.trim().is_empty() {
            line.trim().clone_into(field);
        }
    }
    let page = seamwright_draft::shop_file(&own);
    if let Err((_, faults)) = seamwright_model::load("the shop", page.as_bytes()) {
        let first = faults.into_iter().next().map_or(String::new(), |fault| fault.message);
        bail!("an answer cannot stand in a shop file: {first}");
    }
    Ok(page)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_answers_take_the_defaults_and_what_is_given_is_not_asked() {
        let mut typed = Typed { metal: "304L".into(), ..Typed::default() };
        let mut questions = Vec::new();
        ask(&mut typed, &mut "111\n\ntee\n\n\n".as_bytes(), &mut questions).unwrap();
        let facts = (typed.process.as_str(), typed.thickness.as_str(), typed.joint.as_str(), typed.position.as_str());
        assert_eq!(facts, ("111", "3 mm", "tee", "PB"));
        assert_eq!(typed.diameter, None);
        assert!(!String::from_utf8(questions).unwrap().contains("metal"));
        assert!(ask(&mut Typed::default(), &mut "".as_bytes(), &mut Vec::new()).is_err());
    }

    #[test]
    fn a_bad_answer_is_told_at_once_and_asked_again_and_a_step_goes_back() {
        let mut typed = Typed::default();
        let mut questions = Vec::new();
        let answers = "?\nfusion\n111\nmild steel\nnone\n1 mm\n<\nnone\n6 mm\nt joint\nnone\nPB\n";
        ask(&mut typed, &mut answers.as_bytes(), &mut questions).unwrap();
        let said = String::from_utf8(questions).unwrap();
        for word in
            ["by its number or letters", "`fusion` is not known", "1 mm lies outside", "(butt, tee, lap, corner)"]
        {
            assert!(said.contains(word), "`{word}` is not said in\n{said}");
        }
        assert_eq!((typed.thickness.as_str(), typed.joint.as_str()), ("6 mm", "t joint"));
        let why = ask(&mut Typed::default(), &mut "141\n304L\n".as_bytes(), &mut Vec::new()).unwrap_err().to_string();
        assert!(why.contains("--process \"141\" --metal \"304L\""), "{why}");
    }

    #[test]
    fn a_shop_file_is_one() {
        let page =
            shop_file(&mut "Our shop\nred box\n135\n30-250 A\n250 A at 40 %\n".as_bytes(), &mut Vec::new()).unwrap();
        let loaded = seamwright_model::load("shop", page.as_bytes()).unwrap_or_else(|_| panic!("{page}"));
        assert_eq!(loaded.document.kind(), "shop");
        assert!(page.contains("Our shop") && page.contains("250 A") && !page.contains("torches"), "{page}");
        assert!(shop_file(&mut "x\ny\nz\nmuch current\n".as_bytes(), &mut Vec::new()).is_err());
    }
}
