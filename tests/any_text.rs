//! Any text gives a result: nothing dropped, no panic, reasons and cells alike, and time that grows with the text.

use std::time::Instant;

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

#[test]
fn time_grows_with_the_text() {
    let kinds = [
        "a", "A", "!", "'", "“", "*a* ", "^{", "1", "A ", "-", "a'", "(", "*", "?", "r-", " '", "\"", "é",
        "œ",
    ];
    for kind in kinds {
        let time = |count: usize| {
            let text = kind.repeat(count);
            let start = Instant::now();
            let cells = ueb::transcribe(&text, &Options { contracted: true, marks: true });
            assert!(!cells.is_empty());
            start.elapsed().as_secs_f64()
        };
        time(100);
        let (small, large) = (time(4_000), time(64_000));
        // Sixteen times the text: a square would take 256 times as long.
        assert!(large < small.max(0.001) * 100.0, "{kind:?}: {small} s, then {large} s");
    }
}
