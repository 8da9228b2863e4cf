//! A record that an older page kept says the same to this one. `data/record-1.txt` is such a record (invented answers over
//! sixty days) and `data/record-1-due.tsv` what that page made of it; `data/record-1-events.txt` holds an event of each
//! kind. None is ever made anew.

use cellwright::practice::due::Memories;
use cellwright::practice::record::{Answer, Direction, Event, Record};

#[test]
fn an_older_record_has_the_same_dates() {
    let (record, damaged) = Record::parse(include_str!("data/record-1.txt")).expect("a record");
    assert!(damaged.is_empty());
    let memories = Memories::of(&record);
    let mut compared = 0;
    for line in include_str!("data/record-1-due.tsv").lines().filter(|line| !line.starts_with('#')) {
        let fields: Vec<&str> = line.split('\t').collect();
        let [sign, direction, due, known] = fields[..] else { panic!("{line}: four fields") };
        let direction = Direction::ALL.into_iter().find(|one| one.name() == direction).expect(line);
        let memory = memories.get(sign, direction).expect(line);
        assert_eq!((memory.due().to_string().as_str(), memory.known().name()), (due, known), "{line}");
        compared += 1;
    }
    assert_eq!(compared, memories.len());
}

/// Every kind of event as it was kept; what the learner wrote stays as written, though a kind of mistake has another name
/// today than the one it mentions.
#[test]
fn an_older_record_has_the_same_events() {
    let text = include_str!("data/record-1-events.txt");
    let (record, damaged) = Record::parse(text).expect("a record");
    assert!(damaged.is_empty());
    let begin = 1_764_000_000_000;
    let answer = |at, sign: &str, direction, told: (&str, &str)| {
        Event::Answer(Answer {
            at,
            sign: sign.to_owned(),
            direction,
            right: told.0.is_empty(),
            ms: 1830,
            clues: 1,
            instead: told.0.to_owned(),
            cause: told.1.to_owned(),
        })
    };
    let mut made: Vec<(u64, Event)> = Direction::ALL
        .into_iter()
        .enumerate()
        .map(|(n, direction)| {
            let told = if n % 3 == 0 { ("groupsign ch", "eye") } else { ("", "") };
            let at = begin + n as u64 * 60_000;
            (at, answer(at, "groupsign st", direction, told))
        })
        .collect();
    let st = "groupsign st".to_owned();
    made.extend([
        (begin + 600_000, Event::Cause { of: begin, sign: st, cause: "hand".into() }),
        (begin + 700_000, Event::Mark { sign: "letter a".into(), on: true }),
        (
            begin + 710_000,
            Event::Note { sign: "groupsign ble".into(), text: "not in the register: retired".into() },
        ),
        (
            begin + 720_000,
            Event::Own { cells: "246 135".into(), meaning: "retired-sign of the harbour book".into() },
        ),
        (
            begin + 730_000,
            Event::Text { title: "The lamp on Orrin".into(), words: 212, cells: 803, ms: 412_000, missed: 5 },
        ),
        (begin + 740_000, Event::Run { cells: 60, right: 57, ms: 61_000, hard: "st!x".into() }),
        (
            begin + 750_000,
            answer(begin + 750_000, "contraction the", Direction::Write, ("dots 2-3-5", "rule")),
        ),
    ]);
    let kept = record.in_time();
    for ((line, kept), (at, event)) in text.lines().skip(1).zip(&kept).zip(&made) {
        assert_eq!(kept, &(*at, event), "{line}");
    }
    assert_eq!((kept.len(), made.len()), (16, 16));
    assert_eq!(record.to_text(), text);
}

/// The record of before is what it was, line by line: its check sums were taken by a general-purpose library (CRC-32 of
/// ISO-HDLC, as zlib computes it).
#[test]
fn the_record_of_before_is_unchanged() {
    let sums = include_str!("data/record-1.sums").lines().filter(|line| !line.starts_with('#'));
    let lines = include_str!("data/record-1.txt").lines();
    let crc = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC);
    let (mut count, mut wrong) = (0, Vec::new());
    for (number, (line, sum)) in lines.clone().zip(sums.clone()).enumerate() {
        count += 1;
        if format!("{:08x}", crc.checksum(line.as_bytes())) != sum {
            wrong.push(format!("record-1.txt, line {}: {line}", number + 1));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!((lines.count(), sums.count()), (count, count));
}
