//! Something wrong with a file, and where.

use crate::source::Span;

/// Something wrong with a file, so that it cannot be read as a document.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// What was found, lower case, no full stop.
    pub message: String,
    /// What to write.
    pub hint: Option<String>,
    /// Where; `None` where the whole file is meant.
    pub span: Option<Span>,
    /// JSON pointer of the value, where one is meant.
    pub pointer: String,
}

impl Fault {
    pub(super) fn at(span: Span, message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, span: Some(span), pointer: String::new() }
    }

    pub(super) fn whole(message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, span: None, pointer: String::new() }
    }

    pub(super) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}
