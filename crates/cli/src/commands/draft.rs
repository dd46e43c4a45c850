//! `draft`: a starting procedure from a few facts, as commented YAML on standard output; with what a shop has, where one is
//! given. Drafts of a lesson and of a shop file, too.

use std::io::{BufRead, Write};
use std::path::Path;

use anyhow::{Result, anyhow, bail};
use seamwright_desk::companions;
use seamwright_desk::draft::{self, Draft, DraftRequest};
use seamwright_desk::files::reason;
use seamwright_draft::{Choices, Question, Refused, ShopAnswers, Typed};

use crate::args::DraftArgs;
use crate::author_file;
use crate::ending::Ending;
use crate::output;
use crate::report::text;
use crate::results;
use crate::today;

/// Runs the command.
pub fn run(args: DraftArgs) -> Result<Ending> {
    let disk = today::disk();
    if let Some(procedure) = &args.lesson {
        return put(&draft::lesson(&disk, procedure, args.learners, args.booths)?);
    }
    if let Some(procedure) = &args.record {
        return put(&draft::record(&disk, procedure, args.code.as_deref())?);
    }
    if args.shop_file {
        return put(&shop_file(&mut std::io::stdin().lock(), &mut std::io::stderr())?);
    }
    if args.metal.len() > 2 {
        bail!("--metal is given {} times: two metals meet at a joint", args.metal.len());
    }
    let (interactive, shop) = (args.interactive, args.shop.clone());
    let mut request = DraftRequest::from(args);
    if let Some(missing) = missing(&request.typed).filter(|_| !interactive) {
        bail!(missing);
    }
    let shop = match shop.as_deref().map(|path| companions::shop(&disk, path)).transpose() {
        Ok(shop) => shop,
        Err(unread) => {
            text::print(&[*unread]);
            return Ok(Ending::Failed);
        }
    };
    if interactive {
        let draft = |request: &DraftRequest| draft::procedure(request, shop.as_deref());
        return talk(&mut request, draft, &mut std::io::stdin().lock(), &mut std::io::stderr());
    }
    put(&draft::procedure(&request, shop.as_deref())?)
}

impl From<DraftArgs> for DraftRequest {
    fn from(args: DraftArgs) -> Self {
        let DraftArgs { process, thickness, joint, position, diameter, number, .. } = args;
        let DraftArgs { backing, detail, code, leg, filler, filler_diameter: size, gas, machine, .. } = args;
        let mut metals = args.metal.into_iter();
        let typed = Typed {
            process: process.unwrap_or_default(),
            metal: metals.next().unwrap_or_default(),
            to: metals.next(),
            thickness: thickness.unwrap_or_default(),
            joint: joint.unwrap_or_default(),
            position: position.unwrap_or_default(),
            diameter,
        };
        let choices = Choices { backing, detail, code, leg, filler, size, gas, machine };
        Self { typed, choices, number: number.unwrap_or_default() }
    }
}

/// A draft to standard output.
fn put(draft: &Draft) -> Result<Ending> {
    results::out().write_all(draft.text.as_bytes())?;
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

/// What a line says in answer to a question.
enum Said<'l> {
    Answer(&'l str),
    Help,
    Back,
    Stop,
}

impl<'l> Said<'l> {
    fn of(line: &'l str) -> Self {
        let line = line.trim();
        match line.to_lowercase().as_str() {
            "?" | "help" => Self::Help,
            "<" | "back" => Self::Back,
            "quit" | "exit" => Self::Stop,
            _ => Self::Answer(line),
        }
    }
}

/// Asks until there is a draft and a place for it; what gives none is said, and the last answer asked for again.
fn talk(
    request: &mut DraftRequest,
    draft: impl Fn(&DraftRequest) -> Result<Draft, Refused>,
    answers: &mut impl BufRead,
    questions: &mut impl Write,
) -> Result<Ending> {
    writeln!(questions, "An empty answer takes what stands in brackets; ? explains, < goes back, quit ends.")?;
    let mut asking = Asking::new(&request.typed);
    loop {
        asking.ask(&mut request.typed, answers, questions)?;
        match draft(request) {
            Ok(page) => {
                if let Some(ending) = written(&request.typed, &page, !asking.open.is_empty(), answers, questions)? {
                    return Ok(ending);
                }
            }
            Err(refused) if asking.open.is_empty() => return Err(refused.into()),
            Err(refused) => writeln!(questions, "  {refused}")?,
        }
        asking.back(&mut request.typed);
    }
}

/// The questions that are asked, and how far they are answered.
struct Asking {
    open: Vec<Question>,
    /// What was given before any was asked.
    before: Typed,
    at: usize,
}

impl Asking {
    fn new(typed: &Typed) -> Self {
        let metal_given = Question::Metal.answered(typed);
        let given = |own: &Question| own.answered(typed) || *own == Question::To && metal_given;
        let open = Question::ALL.into_iter().filter(|own| !given(own)).collect();
        Self { open, before: typed.clone(), at: 0 }
    }

    /// Takes the last answer back.
    fn back(&mut self, typed: &mut Typed) {
        self.at = self.at.saturating_sub(1);
        if let Some(previous) = self.open.get(self.at) {
            cleared(typed, *previous, &self.before);
        }
    }

    /// Asks for each fact that is not given and judges each answer at once; an empty answer takes what stands in brackets.
    fn ask(&mut self, typed: &mut Typed, answers: &mut impl BufRead, questions: &mut impl Write) -> Result<()> {
        while let Some(question) = self.open.get(self.at).copied() {
            let usual = question.usual(typed);
            let choices = question.choices(typed);
            let listed = if choices.is_empty() { String::new() } else { format!(" ({})", choices.join(", ")) };
            write!(questions, "{}{listed} [{usual}]: ", question.words())?;
            questions.flush()?;
            let mut line = String::new();
            if answers.read_line(&mut line)? == 0 {
                bail!("the answers ended before `{}`; what was answered: {}", question.words(), command(typed));
            }
            match Said::of(&line) {
                Said::Help => writeln!(questions, "  {}", question.help())?,
                Said::Back => self.back(typed),
                Said::Stop => bail!("stopped before `{}`; what was answered: {}", question.words(), command(typed)),
                Said::Answer(answer) => {
                    let answer = if answer.is_empty() { usual.as_str() } else { answer };
                    match question.answer(typed, answer) {
                        Ok(()) => self.at += 1,
                        Err(why) => writeln!(questions, "  {why}")?,
                    }
                }
            }
        }
        Ok(())
    }
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

/// Asks for the file and writes the page there; where nothing more is answered, or `-`, it goes to standard output. Nothing
/// where the answers are to be changed.
fn written(
    typed: &Typed,
    page: &Draft,
    can_go_back: bool,
    answers: &mut impl BufRead,
    questions: &mut impl Write,
) -> Result<Option<Ending>> {
    let words = [&typed.joint, &typed.thickness, &typed.metal, &typed.process];
    let name = words.map(|word| word.to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), "-")).join("-");
    let usual = format!("{name}.yaml");
    let mut refused: Option<String> = None;
    loop {
        write!(questions, "file to write, - for the screen [{usual}]: ")?;
        questions.flush()?;
        let mut line = String::new();
        let ended = answers.read_line(&mut line)? == 0;
        let answer = match Said::of(&line) {
            Said::Back if can_go_back => return Ok(None),
            Said::Stop => bail!("nothing was written; what was answered: {}", command(typed)),
            Said::Help | Said::Back => {
                writeln!(
                    questions,
                    "  the name of the file that the draft is written to; without an ending it gets .yaml"
                )?;
                continue;
            }
            Said::Answer(answer) => answer,
        };
        if ended || answer == "-" {
            return put(page).map(Some);
        }
        let answer = if answer.is_empty() { usual.as_str() } else { answer };
        let path = Path::new(answer);
        let file = if path.extension().is_none() { format!("{answer}.yaml") } else { answer.to_owned() };
        let path = Path::new(&file);
        if path.exists() && refused.as_ref() != Some(&file) {
            writeln!(questions, "  {file} is there already: the same name again replaces it")?;
            refused = Some(file);
            continue;
        }
        // A file that is replaced is one that a person keeps: its mode stays, and what a link leads to is written.
        let written = if path.exists() {
            author_file::write(path, page.text.as_bytes())
                .map_err(|error| anyhow!("{file}: cannot be written: {}", reason(&error)))
        } else {
            output::write(path, page.text.as_bytes())
        };
        match written {
            Ok(()) => {
                writeln!(questions, "  written to {file}; check it: seamwright check \"{file}\"")?;
                return Ok(Some(Ending::Clean));
            }
            Err(why) => writeln!(questions, "  {why:#}")?,
        }
    }
}

/// A question on a shop: its words, what it asks for, and the answer that it fills.
type ShopQuestion = (&'static str, &'static str, fn(&mut ShopAnswers) -> &mut String);

const SHOP_QUESTIONS: [ShopQuestion; 8] = [
    ("name of the shop", "its name, as sheets print it", |own| &mut own.name),
    ("a machine", "what the shop calls it; more machines are added in the file", |own| &mut own.machine),
    (
        "its processes, with commas",
        "numbers, letters or words of the trade, such as 141, SMAW, MIG, flux core",
        |own| &mut own.processes,
    ),
    ("its range of current", "from its rating plate, such as 10-200 A", |own| &mut own.current),
    ("its duty cycle", "a point of its rating plate, such as 160 A at 30 %", |own| &mut own.duty),
    ("a torch and its size", "its name and size number, such as bench torch 17", |own| &mut own.torch),
    (
        "fillers in stock, with semicolons",
        "class, diameter and mass of each, such as ER70S-6 0.035 in 33 lb; E7018 1/8 in 10 lb",
        |own| &mut own.fillers,
    ),
    ("labour per hour", "what an hour costs and the currency, such as 48 EUR or $65", |own| &mut own.labour),
];

/// Asks what a shop has and judges each answer at once; where nothing more is answered, the rest is taken as it stands in
/// brackets.
fn shop_file(answers: &mut impl BufRead, questions: &mut impl Write) -> Result<Draft> {
    let mut own = ShopAnswers::default();
    writeln!(questions, "An empty answer takes what stands in brackets; ? explains, < goes back, quit ends.")?;
    let mut at = 0;
    while let Some((words, help, field)) = SHOP_QUESTIONS.get(at) {
        write!(questions, "{words} [{}]: ", field(&mut own))?;
        questions.flush()?;
        let mut line = String::new();
        if answers.read_line(&mut line)? == 0 {
            break;
        }
        match Said::of(&line) {
            Said::Help => writeln!(questions, "  {help}")?,
            Said::Back => at = at.saturating_sub(1),
            Said::Stop => bail!("stopped before `{words}`: nothing was written"),
            Said::Answer("") => at += 1,
            Said::Answer(answer) => {
                let before = std::mem::replace(field(&mut own), answer.to_owned());
                match draft::against(&own) {
                    None => at += 1,
                    Some(why) => {
                        *field(&mut own) = before;
                        writeln!(questions, "  {why}")?;
                    }
                }
            }
        }
    }
    Ok(draft::shop(&own))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(typed: &mut Typed, mut answers: &[u8], questions: &mut Vec<u8>) -> Result<()> {
        Asking::new(typed).ask(typed, &mut answers, questions)
    }

    #[test]
    fn what_gives_no_draft_is_said_and_asked_again_with_nothing_lost() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("tray");
        let answers = format!("111\nmild steel\nnone\n6 mm\ntee\nnone\nPB\nback\nPF\n?\n{}\n", file.display());
        let draft = |request: &DraftRequest| match request.typed.position.as_str() {
            "PB" => Ok(Draft { text: "first".to_owned() }),
            _ => draft::procedure(request, None),
        };
        let (mut request, mut questions) = (DraftRequest::default(), Vec::new());
        talk(&mut request, draft, &mut answers.as_bytes(), &mut questions).unwrap();
        // Back at the file leads to the last question; a name without ending gets one.
        let page = std::fs::read_to_string(folder.path().join("tray.yaml")).unwrap();
        assert!(page.contains("positions: [PF]"), "{page}");
        // A thickness that downwards does not do: said, and the position asked for once more.
        let answers = "135\nS355J2\nnone\n8 mm\ntee\nnone\nPG\nquit\n";
        let (mut request, mut questions) = (DraftRequest::default(), Vec::new());
        let draft = |request: &DraftRequest| draft::procedure(request, None);
        let why = talk(&mut request, draft, &mut answers.as_bytes(), &mut questions).unwrap_err().to_string();
        let said = String::from_utf8(questions).unwrap();
        assert!(said.contains("too thick for welding downwards"), "{said}");
        assert_eq!(said.matches("position (").count(), 2, "{said}");
        assert!(why.contains("--process \"135\" --metal \"S355J2\" --thickness \"8 mm\""), "{why}");
    }

    #[test]
    fn empty_answers_take_the_defaults_and_what_is_given_is_not_asked() {
        let mut typed = Typed { metal: "304L".into(), ..Typed::default() };
        let mut questions = Vec::new();
        ask(&mut typed, b"111\n\ntee\n\n\n", &mut questions).unwrap();
        let facts = (typed.process.as_str(), typed.thickness.as_str(), typed.joint.as_str(), typed.position.as_str());
        assert_eq!(facts, ("111", "3 mm", "tee", "PB"));
        assert_eq!(typed.diameter, None);
        assert!(!String::from_utf8(questions).unwrap().contains("metal"));
        assert!(ask(&mut Typed::default(), b"", &mut Vec::new()).is_err());
    }

    #[test]
    fn a_bad_answer_is_told_at_once_and_asked_again_and_a_step_goes_back() {
        let mut typed = Typed::default();
        let mut questions = Vec::new();
        let answers = "?\nfusion\n111\nmild steel\nnone\n1 mm\n<\nnone\n6 mm\nt joint\nnone\nPB\n";
        ask(&mut typed, answers.as_bytes(), &mut questions).unwrap();
        let said = String::from_utf8(questions).unwrap();
        for word in
            ["by its number or letters", "`fusion` is not known", "1 mm lies outside", "(butt, tee, lap, corner)"]
        {
            assert!(said.contains(word), "`{word}` is not said in\n{said}");
        }
        assert_eq!((typed.thickness.as_str(), typed.joint.as_str()), ("6 mm", "t joint"));
        let why = ask(&mut Typed::default(), b"141\n304L\n", &mut Vec::new()).unwrap_err().to_string();
        assert!(why.contains("--process \"141\" --metal \"304L\""), "{why}");
    }

    #[test]
    fn a_shop_file_is_one() {
        let page = shop_file(&mut "Our shop\nred box\n135\n30-250 A\n250 A at 40 %\n".as_bytes(), &mut Vec::new())
            .unwrap()
            .text;
        let loaded = seamwright_model::load("shop", page.as_bytes()).unwrap_or_else(|_| panic!("{page}"));
        assert_eq!(loaded.document.kind(), "shop");
        assert!(page.contains("Our shop") && page.contains("250 A") && !page.contains("torches"), "{page}");
        // Each answer is judged at once and asked for again; back changes one, nothing is lost.
        let mut questions = Vec::new();
        let answers = "Ours\nMig\narc\nMIG, flux core\nmuch current\n30-250\n30-250 A\n?\n40 % at 250 A\nback\n200 A at 60 %\n\nER7OS-6 0.035 in 33 lb\nER70S-6 0.035 in 33 lb\n$65\n";
        let page = shop_file(&mut answers.as_bytes(), &mut questions).unwrap().text;
        let said = String::from_utf8(questions).unwrap();
        for word in
            ["`arc`", "does not start with a number", "`30-250` has no unit", "rating plate", "did you mean `ER70S-6`"]
        {
            assert!(said.contains(word), "{word}: {said}");
        }
        for word in
            ["[MIG, flux core]", "30-250 A", "{current: 200 A, duty_cycle: 60 %}", "currency: USD", "labour: 65 per h"]
        {
            assert!(page.contains(word), "{word}: {page}");
        }
        assert!(shop_file(&mut "x\nquit\n".as_bytes(), &mut Vec::new()).is_err());
    }
}
