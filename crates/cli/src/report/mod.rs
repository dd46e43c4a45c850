//! Findings on the terminal.

pub mod text;

use anyhow::{Result, bail};
use seamwright_desk::report::{Refused, Report};
use seamwright_model::finding::Severity;

use crate::args::Deny;
use crate::ending::Ending;

/// How a file ends the command.
pub fn ending(report: &Report, deny: Option<Deny>) -> Ending {
    match &report.result {
        Err(_) => Ending::Failed,
        // Only a sheet that is proved is told to be in order.
        Ok(_) if report.unproved().is_some() => Ending::Failed,
        Ok(_) => {
            let cautions = deny == Some(Deny::Cautions) && report.count(Severity::Caution) > 0;
            let outdated = report.received.as_ref().is_some_and(|own| own.outdated().is_some());
            if report.count(Severity::Error) > 0 || cautions || outdated { Ending::Findings } else { Ending::Clean }
        }
    }
}

/// Tells why there is no answer.
pub fn refused(why: Refused) -> Result<Ending> {
    match why {
        Refused::Unread(reports) => {
            text::print(&reports);
            Ok(Ending::Failed)
        }
        Refused::Words(words) => bail!(words),
    }
}
