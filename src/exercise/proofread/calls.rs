//! The cells that the learner holds to be wrong, and how they are written down.

use crate::marking::Kind;

/// A cell that the learner holds to be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Call {
    /// The line of the sheet, from 0.
    pub line: usize,
    /// The cell, from 0.
    pub cell: usize,
    /// What kind of mistake the learner says it is.
    pub kind: Option<Kind>,
}

/// Calls as a line of text, "3:14 mirrored, 5:2", lines and cells from 1.
pub fn calls_to_text(calls: &[Call]) -> String {
    let call = |call: &Call| {
        let kind = call.kind.map(|kind| format!(" {}", kind.name())).unwrap_or_default();
        format!("{}:{}{kind}", call.line + 1, call.cell + 1)
    };
    calls.iter().map(call).collect::<Vec<_>>().join(", ")
}

/// The calls of such a line; what cannot be read is left out.
pub fn calls_of_text(text: &str) -> Vec<Call> {
    text.split(", ")
        .filter_map(|call| {
            let (place, kind) =
                call.split_once(' ').map_or((call, None), |(place, kind)| (place, Some(kind)));
            let (line, cell) = place.split_once(':')?;
            let (line, cell): (usize, usize) = (line.parse().ok()?, cell.parse().ok()?);
            Some(Call {
                line: line.checked_sub(1)?,
                cell: cell.checked_sub(1)?,
                kind: kind.and_then(Kind::named),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn calls_as_text_come_back() {
        let calls =
            [Call { line: 2, cell: 13, kind: Some(Kind::Mirrored) }, Call { line: 0, cell: 0, kind: None }];
        assert_eq!(calls_to_text(&calls), "3:14 mirrored, 1:1");
        assert_eq!(calls_of_text(&calls_to_text(&calls)), calls);
        assert_eq!(calls_of_text("0:0, x, 9, 5:"), []);
    }
}
