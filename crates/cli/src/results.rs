//! Results on standard output: JSON for programs, lines for people.

use std::io::{self, ErrorKind, StdoutLock, Write};

use anyhow::Result;
use seamwright_desk::report::json::head;
use serde_json::Value;

use crate::terminal;

/// Standard output, which a reader may leave early: the work goes on, and the exit status tells what was found.
pub struct Out {
    to: StdoutLock<'static>,
    left: bool,
}

/// Standard output for results.
pub fn out() -> Out {
    Out { to: io::stdout().lock(), left: false }
}

impl Out {
    fn unless_left<T>(
        &mut self,
        then: T,
        done: impl FnOnce(&mut StdoutLock<'static>) -> io::Result<T>,
    ) -> io::Result<T> {
        if self.left {
            return Ok(then);
        }
        match done(&mut self.to) {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.left = true;
                Ok(then)
            }
            other => other,
        }
    }
}

impl Write for Out {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.unless_left(bytes.len(), |to| to.write(bytes))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.unless_left((), Write::flush)
    }
}

/// Prints the answer of a command as JSON, behind what every answer begins with.
pub fn json(command: &str, answer: Value) -> Result<()> {
    let mut whole = head(command);
    match answer {
        Value::Object(entries) => whole.extend(entries),
        other => _ = whole.insert("answer".to_owned(), other),
    }
    let mut out = out();
    serde_json::to_writer_pretty(&mut out, &whole).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// Prints a text that is made whole first, its lines folded to the width of the terminal.
pub fn folded(make: impl FnOnce(&mut Vec<u8>) -> Result<()>) -> Result<()> {
    let mut whole = Vec::new();
    make(&mut whole)?;
    let (text, width, mut out) = (String::from_utf8_lossy(&whole), terminal::width(), out());
    for line in text.lines() {
        writeln!(out, "{}", terminal::wrapped(line, width))?;
    }
    Ok(())
}
