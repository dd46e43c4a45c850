//! Messages to people: nothing that a file or its name holds steers the terminal, and a terminal that is gone stops no
//! work.

use std::fmt::Display;
use std::io::Write;

use annotate_snippets::normalize_untrusted_str;
use seamwright_desk::report::Report;

/// Prints a message to standard error; where nobody listens there, the exit status still tells.
pub fn say(message: impl Display) {
    print(format_args!("seamwright: {}", normalize_untrusted_str(&message.to_string())));
}

/// Prints of a sheet that it shows what its source gives, where it does.
pub fn agreed(report: &Report) {
    if let Some(agreed) = &report.agreed {
        print(format_args!("{}: {agreed}", report.input.name));
    }
}

/// Prints a text that holds nothing but the program's own control characters.
pub fn print(text: impl Display) {
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}
