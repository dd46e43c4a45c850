//! What the tests of the binary share; each uses a part of it.

#![allow(dead_code)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The project's folder.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The binary with arguments, in the project's folder.
pub fn command<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamwright"));
    command.args(args).current_dir(root()).env("NO_COLOR", "1");
    command
}

/// Runs the binary.
pub fn seamwright<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> Output {
    command(args).output().unwrap()
}

/// What a run without fault prints as JSON.
pub fn json<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> serde_json::Value {
    let output = seamwright(args);
    assert!(output.status.success(), "{}", messages(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Runs the binary with bytes on standard input.
pub fn piped<S: AsRef<std::ffi::OsStr>>(args: &[S], input: &[u8]) -> Output {
    let mut command = command(args);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    child.wait_with_output().unwrap()
}

/// What a run wrote, on either stream: what `check` finds are its results, what keeps others from work are messages.
pub fn messages(output: &Output) -> String {
    String::from_utf8_lossy(&[output.stderr.as_slice(), &output.stdout].concat()).into_owned()
}

/// Runs the binary; it must neither panic nor be ended by a signal.
pub fn run<S: AsRef<std::ffi::OsStr>>(args: &[S]) -> (i32, String, String) {
    ended(&command(args).output().unwrap())
}

/// Exit status, results, and all that was said by a run that must neither panic nor be ended by a signal.
pub fn ended(output: &Output) -> (i32, String, String) {
    let said = messages(output);
    let code = output.status.code().unwrap_or_else(|| panic!("ended by {}: {said}", output.status));
    assert!(code <= 2 && !said.contains("panicked"), "{code}: {said}");
    (code, String::from_utf8_lossy(&output.stdout).into_owned(), said)
}

/// A procedure without errors, with a number and a title as they stand in the file.
pub fn procedure(number: &str, title: &str) -> String {
    format!(
        "format: 1\ndocument: procedure\nidentification: {{number: {number}, revision: 1, title: {title}}}\n\
         processes: {{111: {{polarity: DCEP}}}}\nruns:\n- {{run: 1, process: 111, current: 90 A}}\n"
    )
}

/// Writes as many procedures as asked for, each with a number of its own.
pub fn procedures(folder: &Path, count: usize) {
    fs::create_dir_all(folder).unwrap();
    for number in 0..count {
        fs::write(folder.join(format!("p{number:04}.yaml")), procedure(&format!("P-{number}"), "Trial")).unwrap();
    }
}

/// The names of everything in a folder, hidden files too, sorted.
pub fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .map(|entries| entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect())
        .unwrap_or_default();
    names.sort();
    names
}

/// How many sheets a folder holds; each of them must be whole, so that its source reads back.
pub fn whole_sheets(folder: &Path) -> usize {
    let mut count = 0;
    for name in names(folder).iter().filter(|name| *name != "index.html" && !name.starts_with('.')) {
        let bytes = fs::read(folder.join(name)).unwrap();
        let text = if Path::new(name).extension().is_some_and(|ending| ending == "pdf") {
            seamwright_page::pdf::source_of(&bytes).unwrap_or_else(|error| panic!("{name}: {error}")).text
        } else {
            let page = String::from_utf8(bytes).unwrap();
            let end = page.trim_end();
            assert!(
                end.contains("</html>") && (end.ends_with("</html>") || end.ends_with(" -->")),
                "{name} is cut off"
            );
            seamwright_page::html::source_of(&page).unwrap_or_else(|error| panic!("{name}: {error}")).text
        };
        assert!(text.starts_with("format: 1") || text.starts_with('#'), "{name}");
        count += 1;
    }
    count
}

/// A path as text.
pub fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}
