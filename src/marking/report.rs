//! Findings and their summary as JSON.

use serde_json::{Value, json};

use super::{Expected, Finding, Marked};
use crate::cell;
use crate::ueb::register;

/// A marked text as a JSON object: lines from 1, places from 0, ranges half-open. `first` is the number of the
/// first line.
pub fn report(marked: &Marked, expected: &Expected, first: usize) -> Value {
    let findings: Vec<Value> = marked.findings.iter().map(|found| finding(found, expected, first)).collect();
    let summary = &marked.summary;
    let kinds: serde_json::Map<String, Value> =
        summary.kinds.iter().map(|(kind, count)| (kind.name().to_owned(), json!(count))).collect();
    let causes: Vec<Value> = summary
        .causes
        .iter()
        .map(|cause| {
            json!({
                "kind": cause.kind.name(),
                "count": cause.count,
                "practise": {"drill": cause.practise.drill, "signs": cause.practise.signs},
            })
        })
        .collect();
    json!({
        "findings": findings,
        "summary": {
            "errors": summary.errors,
            "words": summary.words,
            "words_per_error": summary.words_per_error(),
            "kinds": kinds,
            "signs": summary.signs,
            "causes": causes,
        },
    })
}

fn finding(found: &Finding, expected: &Expected, first: usize) -> Value {
    let (written, print) = (found.written, &found.print);
    let before = expected.print.get(..print.start).unwrap_or(&expected.print);
    let line = before.iter().filter(|c| **c == '\n').count();
    let start = before.iter().rposition(|c| *c == '\n').map_or(0, |at| at + 1);
    json!({
        "kind": found.kind.name(),
        "also": found.also.iter().map(|kind| kind.name()).collect::<Vec<_>>(),
        "written": {"line": written.line + first, "from": written.from, "to": written.to},
        "expected": cell::to_unicode(&found.expected),
        "print": {"line": line + first, "from": print.start - start, "to": print.end - start},
        "sign": found.sign.map(|sign| register::get(sign).key),
        "section": found.section,
        "say": found.say,
    })
}
