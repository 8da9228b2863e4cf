//! What an exercise has too much of, in words: nothing is cut in silence.

use super::{Exercise, SIGNS, TEXT, TITLE};

/// A number as it is read, "20,000".
fn number(of: usize) -> String {
    let digits = of.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// What is over the limits of an exercise, each with its number and what to do.
pub fn over_limits(set: &Exercise) -> Vec<String> {
    let mut over = Vec::new();
    let mut check = |what: &str, has: usize, holds: usize, of: &str| {
        if has > holds {
            over.push(format!(
                "The {what} has {} {of}; an exercise holds {}. Take out {}, or make two exercises of it. Nothing of it is cut.",
                number(has),
                number(holds),
                number(has - holds)
            ));
        }
    };
    check("title", set.title.chars().count(), TITLE, "characters");
    check("text", set.text.trim_end().chars().count(), TEXT, "characters");
    check("list of signs", set.signs.len(), SIGNS, "signs");
    over
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_over_a_limit_is_told_with_its_number() {
        let set = Exercise { text: "a".repeat(TEXT), ..Exercise::default() };
        assert!(over_limits(&set).is_empty() && set.to_payload().is_ok());
        let set = Exercise { text: "a".repeat(TEXT + 1431), title: "x".repeat(201), ..Exercise::default() };
        let told = over_limits(&set);
        assert_eq!(
            told,
            [
                "The title has 201 characters; an exercise holds 200. Take out 1, or make two exercises of it. Nothing of it is cut.",
                "The text has 21,431 characters; an exercise holds 20,000. Take out 1,431, or make two exercises of it. Nothing of it is cut."
            ]
        );
        assert!(set.to_payload().is_err());
    }
}
