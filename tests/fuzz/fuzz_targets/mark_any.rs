//! Any two texts can be marked against each other, in bounded time, and what is found lies within them.
#![no_main]
use cellwright::cell::Cell;
use cellwright::marking::{Expected, mark, plant::plant};
use cellwright::ueb::Options;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (String, Vec<u8>, bool)| {
    let (print, bytes, contracted) = input;
    // Bytes 64 and above end a line.
    let lines: Vec<Vec<Cell>> = bytes
        .split(|byte| *byte >= 64)
        .map(|line| line.iter().filter_map(|byte| Cell::from_bits(*byte)).collect())
        .collect();
    let options = Options { contracted, ..Options::default() };
    for expected in [Expected::from_print(&print, &options), Expected::from_key(&lines, contracted)] {
        for finding in mark(&expected, &lines).findings {
            let line = lines.get(finding.written.line).map_or(0, Vec::len);
            assert!(finding.written.from <= finding.written.to && finding.written.to <= line);
            assert!(finding.print.end <= expected.print.len() && finding.asked.end <= expected.cells.len());
        }
    }
    assert!(mark(&Expected::from_key(&lines, contracted), &lines).findings.is_empty());
    plant(&lines, &[], 0.1, bytes.len() as u64, contracted);
});
