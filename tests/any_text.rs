//! Any text gives a result: nothing dropped, no panic, reasons and cells alike, and time that grows with the text.

use cellwright::ueb::{self, Options};
use proptest::prelude::*;

fn check(text: &str) {
    for marks in [false, true] {
        for contracted in [false, true] {
            let options = Options { contracted, marks };
            let explained = ueb::explain(text, &options);
            assert_eq!(explained.cells, ueb::transcribe(text, &options), "{text:?} {options:?}");
            let length = text.chars().count();
            let mut at = 0;
            let mut seen = vec![marks; length];
            for sign in &explained.signs {
                assert_eq!(sign.cells.start, at, "{text:?}");
                at = sign.cells.end;
                assert!(sign.print.start <= sign.print.end && sign.print.end <= length, "{text:?} {sign:?}");
                seen[sign.print.clone()].fill(true);
            }
            assert_eq!(at, explained.cells.len(), "{text:?}");
            assert!(seen.iter().all(|&s| s), "a character without a sign in {text:?}: {seen:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]
    #[test]
    fn any_text(text in ".{0,40}") {
        check(&text);
    }

    #[test]
    fn text_of_signs(text in "[a-eA-Est '\"“”‘’.,;:!?—–_*^{}~<u>/\\\\()0-9½²é\u{304}\u{35e}œ\u{a0}\n-]{0,40}") {
        check(&text);
    }
}

/// Texts of one repeated mark, the worst that bookkeeping can meet, come to an end at a length at which a square of
/// the length would not; how the time grows is measured in the bench.
#[test]
fn long_rows_of_one_mark_come_to_an_end() {
    let kinds = [
        "a", "A", "!", "'", "“", "*a* ", "^{", "1", "A ", "-", "a'", "(", "*", "?", "r-", " '", "\"", "é",
        "œ",
    ];
    for kind in kinds {
        let text = kind.repeat(100_000);
        let explained = ueb::explain(&text, &Options { contracted: true, marks: true });
        assert!(!explained.cells.is_empty(), "{kind:?}");
        assert_eq!(
            explained.signs.last().map(|sign| sign.cells.end),
            Some(explained.cells.len()),
            "{kind:?}"
        );
    }
}
