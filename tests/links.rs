//! Links that were made once stay readable: each line of `tests/data/links-1.tsv` was made by version 1 of the payload
//! and is never made anew. And fifty damaged ones are refused, each with words that say what to do.

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use cellwright::exercise::proofread::{Came, Look, calls_of_text};
use cellwright::exercise::{Exercise, Item, LinkError, Plants, Slip, Task, Trial, in_link};
use cellwright::marking::Kind;
use cellwright::ueb::Edition;

const LINKS: &str = include_str!("data/links-1.tsv");

fn payload(name: &str) -> &'static str {
    let line = LINKS.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix('\t'));
    line.unwrap_or_else(|| panic!("no link {name}"))
}

#[test]
fn links_of_version_1_stay_readable() {
    let ferry = Exercise {
        title: "Notice 2".into(),
        text: "The 10:30 ferry leaves from Hallam Quay.".into(),
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("ferry")), Ok(ferry));
    let all = Exercise {
        title: "The galley’s menu".into(),
        text: "Fish soup, £4\nSeaweed bread\nKittiwake cake (no birds)".into(),
        task: Task::Slate,
        contracted: false,
        dot_numbers_only: true,
        hide_reading: true,
        help: false,
        items: Some(12),
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("menu")), Ok(all));
    let slip = Slip::from_payload(payload("slip")).unwrap();
    assert_eq!((slip.title.as_str(), slip.right, slip.asked), ("Notice 2", 6, 7));
}

#[test]
fn links_with_an_edition_stay_readable() {
    let third = Exercise {
        title: "Two names".into(),
        text: "The LetterBox of the GoodFriend line".into(),
        edition: Edition::Third,
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("edition")), Ok(third.clone()));
    assert_eq!(third.identity(), payload("edition"));
}

#[test]
fn links_with_plants_a_trial_or_signs_stay_readable() {
    let planted = Exercise {
        title: "Lost and found".into(),
        text: "# Lost and found\n\nA grey umbrella, two left boots.".into(),
        task: Task::Proofread,
        plants: Some(Plants {
            rate: 45,
            kinds: vec!["mirrored".into(), "dot-slip".into()],
            seed: 7,
            beside: false,
            look: Look::Interpoint,
            ..Plants::default()
        }),
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("planted")), Ok(planted));
    let trial = Exercise {
        title: "Trial".into(),
        text: "The ferry leaves at ten.".into(),
        task: Task::Transcribe,
        help: false,
        trial: Some(Trial { tenths: 15, tries: 2 }),
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("trial")), Ok(trial));
    let signs = Exercise {
        title: "Signs".into(),
        task: Task::DotNumbers,
        items: Some(3),
        signs: vec!["letter c".into(), "groupsign st".into()],
        ..Exercise::default()
    };
    // Signs come round again when more items are asked than there are signs.
    let asked: Vec<Item> =
        ["letter c", "groupsign st", "letter c"].map(|key| Item::Sign(key.to_owned())).into();
    assert_eq!(signs.list(), asked);
    assert_eq!(Exercise::from_payload(payload("signs")), Ok(signs.clone()));
    let slip = Slip::from_payload(payload("signs-slip")).unwrap();
    assert_eq!((slip.right, slip.asked, slip.set), (1, 2, Some(signs)));
    assert_eq!(slip.work.lines().count(), 2);
}

#[test]
fn links_with_faults_of_layout_and_own_causes_stay_readable() {
    let set = Exercise {
        title: "Lost and found".into(),
        text: "# Lost and found\n\nA grey umbrella.".into(),
        task: Task::Proofread,
        plants: Some(Plants {
            layout: true,
            own: vec!["mirrored".into(), "letter i".into()],
            seed: 7,
            ..Plants::default()
        }),
        ..Exercise::default()
    };
    assert_eq!(Exercise::from_payload(payload("layout")), Ok(set.clone()), "{}", set.to_payload().unwrap());
}

/// A slip carries its sheet: the cells and the key in this link stay as they were made, whatever would be planted today.
#[test]
fn a_proofread_sheet_travels_with_its_slip() {
    let slip = Slip::from_payload(payload("proofread-slip")).unwrap();
    let (proof, same) = slip.proof().unwrap();
    assert!(same);
    let lines: Vec<String> = proof.lines.iter().map(|line| cellwright::cell::to_ascii(line)).collect();
    assert_eq!(lines, ["  ,a grey umbrebla1 two left boots & a", "lr to no<ody 7 h&$ 9 on ! ,kittiwake4"]);
    let score = proof.score(&calls_of_text(&slip.work));
    assert_eq!((score.found, score.named, &score.missed[..], score.false_alarms), (1, 1, &[1][..], 1));
    let why = "This is right: capital letter indicator (section 8.3).".to_owned();
    assert_eq!(score.calls[1], Came::FalseAlarm { why });
    // A slip of before has no sheet: it is planted anew, and says so.
    let before = Slip { sheet: None, ..slip };
    assert!(before.proof().is_some_and(|(_, same)| !same));
    assert!(Slip::default().proof().is_none());
}

/// A link and a slip made when a kind of mistake had another name: the exercise has today's name, and the sheet is scored
/// by it. The last call is beside every mistake.
#[test]
fn a_kind_with_the_name_it_once_had_is_read() {
    let older = |kind: &str| ["older-sign", "shifted"].contains(&kind);
    let set = Exercise::from_payload(payload("older-planted")).unwrap();
    let plants = set.plants.clone().unwrap();
    assert_eq!(plants.kinds, ["older-sign", "shifted"]);
    assert_eq!((plants.rate, plants.seed, plants.look), (200, 9, Look::Raised));
    let slip = Slip::from_payload(payload("older-slip")).unwrap();
    assert_eq!((slip.by.as_str(), slip.set.as_ref()), ("Wilf", Some(&set)));
    let (proof, same) = slip.proof().unwrap();
    assert!(same && proof.planted.iter().all(|mistake| older(mistake.kind.name())));
    assert_eq!(proof.planted.iter().filter(|mistake| mistake.kind == Kind::OlderSign).count(), 5);
    let calls = calls_of_text(&slip.work);
    assert!(calls.iter().any(|call| call.kind == Some(Kind::OlderSign)));
    let score = proof.score(&calls);
    assert_eq!((score.found, score.false_alarms), (slip.right as usize, 1));
    // What is made today has today's name alone.
    let again = Exercise::from_payload(&set.to_payload().unwrap()).unwrap();
    assert_eq!(again, set);
}

#[test]
fn fifty_damaged_links_are_refused_in_words() {
    let good = payload("ferry");
    let mut damaged: Vec<String> = Vec::new();
    // Cut, at fifteen places.
    damaged.extend((0..15).map(|n| good[..n * good.len() / 15].to_owned()));
    // One character changed, at twenty places.
    damaged.extend((0..20).map(|n| {
        let at = n * (good.len() - 1) / 19;
        let other = if good.as_bytes()[at] == b'Q' { "R" } else { "Q" };
        format!("{}{other}{}", &good[..at], &good[at + 1..])
    }));
    // Too long, from a little to a lot.
    damaged.extend((1..=5).map(|n| format!("1-{}", "A".repeat(20_000 * n * n))));
    // Another version.
    damaged.extend(
        (0..10).map(|n| good.replacen('1', ["0", "2", "3", "10", "x", "", "-1", "١", "999999", "1.0"][n], 1)),
    );
    assert_eq!(damaged.len(), 50);
    for link in damaged {
        let error = Exercise::from_payload(&link).expect_err(&link);
        let words = error.to_string();
        assert!(words.starts_with("This link") && words.ends_with('.'), "{words}");
    }
    assert_eq!(Exercise::from_payload(&good.replacen('1', "3", 1)), Err(LinkError::Newer(3)));
}

/// Five thousand distinct ones, of every link that was ever kept: cut, and a character changed, left out, doubled or moved, at each place in
/// turn. Each is refused in words, none panics, and none holds the page for a second.
#[test]
fn five_thousand_broken_links_are_refused_in_words() {
    const WANTED: usize = 5_000;
    let good: Vec<&str> =
        LINKS.lines().filter_map(|line| line.split_once('\t')).map(|(_, link)| link).collect();
    let whole: BTreeSet<&str> = good.iter().copied().collect();
    let mut broken = BTreeSet::new();
    for link in &good {
        assert!(link.is_ascii());
        let share = (link.len() * 5 * good.len()).div_ceil(2 * WANTED).max(1);
        for at in (0..link.len()).step_by(share) {
            let (before, behind) = link.split_at(at);
            let (one, rest) = behind.split_at(1);
            let other = if one == "Q" { "R" } else { "Q" };
            broken.insert(before.to_owned());
            broken.insert(format!("{before}{other}{rest}"));
            broken.insert(format!("{before}{rest}"));
            broken.insert(format!("{before}{one}{one}{rest}"));
            broken.insert(format!(
                "{before}{}{one}{}",
                &rest[..rest.len().min(1)],
                &rest[rest.len().min(1)..]
            ));
        }
    }
    broken.retain(|link| !whole.contains(link.as_str()));
    assert!(broken.len() >= WANTED, "{} links", broken.len());
    let mut longest = Duration::ZERO;
    for link in &broken {
        let begun = Instant::now();
        let (exercise, slip) = (Exercise::from_payload(link), Slip::from_payload(link));
        longest = longest.max(begun.elapsed());
        let told = [exercise.err().map(|error| error.to_string()), slip.err().map(|error| error.to_string())];
        for words in told {
            let words = words.unwrap_or_else(|| panic!("{link} is taken"));
            assert!(words.starts_with("This link") && words.ends_with('.'), "{link}: {words}");
        }
    }
    println!("counted: {} broken links, the slowest read in {} µs", broken.len(), longest.as_micros());
    assert!(longest < Duration::from_secs(1), "{longest:?}");
}

#[test]
fn a_pasted_link_is_found_in_what_stands_around_it() {
    let text = format!("Here it is: <https://school.example/braille/#/x/{}>.", payload("ferry"));
    let (_, found) = in_link(&text).unwrap();
    assert_eq!(found, payload("ferry"));
}
