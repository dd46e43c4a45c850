//! `explain` and `table`: what a name means, and the handbook tables.

use anyhow::Result;
use seamwright_desk::explain::{Explained, explain};
use seamwright_desk::table::tables;

use crate::args::Form;
use crate::ending::Ending;
use crate::{results, terminal};

/// Explains a name.
pub fn run(name: Option<&str>, form: Form) -> Result<Ending> {
    print("explain", &explain(name)?, form)
}

/// Lists the tables, or prints one.
pub fn table(name: Option<&str>, form: Form) -> Result<Ending> {
    print("table", &Explained::Table(tables(name)?), form)
}

fn print(command: &str, answer: &Explained, form: Form) -> Result<Ending> {
    match form {
        Form::Text => results::folded(|out| Ok(answer.text(out, terminal::width())?))?,
        Form::Json => results::json(command, answer.json())?,
    }
    Ok(Ending::Clean)
}
