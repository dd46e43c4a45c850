//! Entries of lists that came in, went out or went to another place, and what hangs on their places: accepted findings and the
//! numbers of runs.

use seamwright_model::edit::Edit;
use seamwright_model::load::{Plain, values_of};
use serde::Serialize;
use serde_json::{Value, json};

/// An entry of a list that came in, went out or went to another place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Moved {
    /// JSON pointer of the list.
    pub list: String,
    /// Its place before, from 0; nothing where it came in.
    pub from: Option<usize>,
    /// Its place after; nothing where it went out.
    pub to: Option<usize>,
}

impl Moved {
    /// Where an entry of the list is after it; nothing where it went out.
    fn place(&self, index: usize) -> Option<usize> {
        if self.from == Some(index) {
            return self.to;
        }
        let without = index - usize::from(self.from.is_some_and(|from| index > from));
        Some(without + usize::from(self.to.is_some_and(|to| without >= to)))
    }

    /// Where a pointer points after it; nothing where that went out.
    fn pointer(&self, pointer: &str) -> Option<String> {
        let inside = pointer.strip_prefix(&self.list).and_then(|own| own.strip_prefix('/'));
        let Some(inside) = inside else { return Some(pointer.to_owned()) };
        let (index, rest) = inside.find('/').map_or((inside, ""), |at| inside.split_at(at));
        let Ok(index) = index.parse() else { return Some(pointer.to_owned()) };
        self.place(index).map(|place| format!("{}/{place}{rest}", self.list))
    }

    /// The text with what hangs on the places of the entries: `before` are the values before it.
    ///
    /// `Err` says in words why it cannot be written.
    pub fn followed(&self, text: Plain, before: &Value) -> Result<Plain, String> {
        let text = if self.list == "/runs" { self.numbered(text, before)? } else { text };
        self.accepted(text, before)
    }

    /// Accepted findings go with their entries.
    fn accepted(&self, mut text: Plain, before: &Value) -> Result<Plain, String> {
        let all = before.get("deviations").and_then(Value::as_array).filter(|_| self.list != "/deviations");
        let named =
            all.into_iter().flatten().enumerate().filter_map(|(index, own)| Some((index, own.get("at")?.as_str()?)));
        let mut out = Vec::new();
        for (index, at) in named {
            match self.pointer(at) {
                Some(now) if now == at => {}
                Some(now) => {
                    text =
                        changed(&text, &Edit::Set { pointer: format!("/deviations/{index}/at"), value: now.into() })?;
                }
                None => out.push(index),
            }
        }
        let whole = all.is_some_and(|all| all.len() == out.len());
        if whole && !out.is_empty() {
            return changed(&text, &Edit::Remove { pointer: "/deviations".to_owned() });
        }
        out.into_iter()
            .rev()
            .try_fold(text, |text, index| changed(&text, &Edit::Remove { pointer: format!("/deviations/{index}") }))
    }

    /// Runs that followed one another without a gap still do; else a copy has the number after the greatest.
    fn numbered(&self, mut text: Plain, before: &Value) -> Result<Plain, String> {
        let Some(after) = values_of(&text) else { return Ok(text) };
        let copy = || self.to.filter(|_| self.from.is_none()).map(|to| vec![(to, json!(next_run(before)))]);
        let numbers = self.numbers(runs(before), runs(&after)).or_else(copy).unwrap_or_default();
        for (index, value) in numbers {
            let pointer = format!("/runs/{index}/run");
            if after.pointer(&pointer) != Some(&value) {
                text = changed(&text, &Edit::Set { pointer, value })?;
            }
        }
        Ok(text)
    }

    /// The numbers of the runs of one condition after one of them was moved; nothing where they had gaps before.
    fn numbers(&self, before: &[Value], after: &[Value]) -> Option<Vec<(usize, Value)>> {
        let own = self.to.and_then(|to| after.get(to)).or_else(|| self.from.and_then(|from| before.get(from)))?;
        let condition = own.get("condition");
        let holds = |run: &&Value| run.get("condition") == condition;
        // A run that holds under every condition stands between those of each.
        if condition.is_none() && before.iter().any(|run| !holds(&run)) {
            return None;
        }
        let spans = before.iter().filter(holds).map(Span::of).collect::<Option<Vec<Span>>>()?;
        let follow = spans.windows(2).all(|pair| match pair {
            [one, next] => one.last.is_some_and(|last| next.first == last + 1),
            _ => true,
        });
        let mut next = spans.first().filter(|_| follow)?.first;
        let mut numbers = Vec::new();
        for (index, run) in after.iter().enumerate().filter(|(_, run)| holds(run)) {
            let span = Span::of(run)?;
            let last = numbers.len() + 1 == after.iter().filter(holds).count();
            numbers.push((index, span.from(next)));
            match span.last {
                Some(end) => next += end + 1 - span.first,
                // As many runs as the joint takes are the last.
                None if last => {}
                None => return None,
            }
        }
        Some(numbers)
    }
}

fn runs(document: &Value) -> &[Value] {
    document.get("runs").and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default()
}

/// The number after the greatest run.
pub fn next_run(document: &Value) -> u64 {
    let last = |run: &Value| match run.get("run")? {
        Value::Number(number) => number.as_u64(),
        Value::String(text) => text.rsplit('-').next()?.trim().parse().ok(),
        _ => None,
    };
    document.get("runs").and_then(Value::as_array).into_iter().flatten().filter_map(last).max().unwrap_or(0) + 1
}

/// The numbers of a run: `2`, `2-4`, `3-n`.
struct Span {
    first: u64,
    /// Nothing where it stands for as many as the joint takes.
    last: Option<u64>,
}

impl Span {
    fn of(run: &Value) -> Option<Self> {
        match run.get("run")? {
            Value::Number(number) => number.as_u64().map(|first| Self { first, last: Some(first) }),
            Value::String(text) => {
                let (first, last) = text.split_once('-')?;
                let first = first.trim().parse().ok()?;
                let last = match last.trim() {
                    "n" => None,
                    own => Some(own.parse().ok().filter(|last| *last >= first)?),
                };
                Some(Self { first, last })
            }
            _ => None,
        }
    }

    /// The same number of runs from another one on, as it is written.
    fn from(&self, first: u64) -> Value {
        match self.last {
            None => format!("{first}-n").into(),
            Some(last) if last == self.first => json!(first),
            Some(last) => format!("{first}-{}", first + last - self.first).into(),
        }
    }
}

fn changed(text: &Plain, edit: &Edit) -> Result<Plain, String> {
    text.edit(edit).map(|(after, ..)| after).map_err(|refused| refused.message)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pointer_goes_with_its_entry() {
        let moved = |from, to| Moved { list: "/runs".into(), from, to };
        let all = |own: Moved| ["/runs/0/run", "/runs/1/run", "/runs/2", "/joint", "/runs"].map(|at| own.pointer(at));
        let some = |own: &str| Some(own.to_owned());
        assert_eq!(
            all(moved(Some(1), None)),
            [some("/runs/0/run"), None, some("/runs/1"), some("/joint"), some("/runs")]
        );
        assert_eq!(
            all(moved(None, Some(1))),
            [some("/runs/0/run"), some("/runs/2/run"), some("/runs/3"), some("/joint"), some("/runs")]
        );
        assert_eq!(
            all(moved(Some(2), Some(0))),
            [some("/runs/1/run"), some("/runs/2/run"), some("/runs/0"), some("/joint"), some("/runs")]
        );
    }
}
