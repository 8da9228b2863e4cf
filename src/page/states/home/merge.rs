//! What comes of opening a file that takes everything home: what is new, later or both is put in its place; what was changed in both
//! places is set aside. The record is not among it: it has its own way to be merged.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::file::{Home, Piece};
use super::keys::{self, Way};
use super::told::Told;
use super::{Known, Pieces, places, remember, sum};
use crate::exercise::ClassSheet;
use crate::exercise::own::Own;

/// What is to be done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Merged {
    /// Texts to keep, by their keys.
    pub put: Pieces,
    /// Texts of the file to set aside, by the keys that they belong to.
    pub aside: Vec<(String, String)>,
    /// What is remembered of each piece from now on.
    pub known: Known,
    /// What is to be told of it.
    pub told: Told,
}

/// Merges a file with what is here; `back` brings back what was put away since.
pub fn merge(here: &Pieces, known: &Known, file: &Home, back: bool) -> Merged {
    let mut merged = Merged { known: known.clone(), ..Merged::default() };
    for (key, piece) in &file.pieces {
        let there = piece.text.as_str();
        match (keys::way(key), here.get(key)) {
            (None | Some(Way::Record | Way::Stays), _) => merged.told.unknown += 1,
            (Some(Way::Aside), _) => {
                let base = keys::aside_of(key).unwrap_or(key).to_owned();
                merged.aside.push((base, there.to_owned()));
            }
            (Some(_), Some(text)) if text == there => {}
            (Some(Way::Exercises), text) => exercises(text, there, &mut merged),
            (Some(Way::Class), text) => class(text, there, &mut merged),
            (Some(Way::Texts), text) => texts(key, text, there, &mut merged),
            (Some(way), text) => whole(key, way, text, piece, back, &mut merged),
        }
    }
    merged
}

/// A piece that is one.
fn whole(key: &str, way: Way, here: Option<&String>, piece: &Piece, back: bool, merged: &mut Merged) {
    let there = sum(&piece.text);
    let known = merged.known.get(key).cloned().unwrap_or_default();
    let told = &mut merged.told;
    let Some(here) = here else {
        if known.contains(&there) && !back {
            told.put_away.push(key.to_owned());
            return;
        }
        told.new.push(key.to_owned());
        return take(key, piece, merged);
    };
    if piece.was.contains(&sum(here)) {
        told.later.push(key.to_owned());
        take(key, piece, merged);
    } else if known.contains(&there) {
        told.stays.push(key.to_owned());
    } else if let Some((text, differs)) =
        Some(way).filter(|way| *way == Way::Places).and_then(|_| places::both(here, &piece.text))
    {
        if differs {
            told.differs.push(key.to_owned());
            merged.aside.push((key.to_owned(), piece.text.clone()));
        } else {
            remember(&mut merged.known, key, piece.was.iter().copied().chain([there]));
        }
        if text != *here {
            merged.told.later.push(key.to_owned());
            merged.put.insert(key.to_owned(), text);
        }
    } else {
        told.differs.push(key.to_owned());
        merged.aside.push((key.to_owned(), piece.text.clone()));
    }
}

fn take(key: &str, piece: &Piece, merged: &mut Merged) {
    merged.put.insert(key.to_owned(), piece.text.clone());
    remember(&mut merged.known, key, piece.was.iter().copied().chain([sum(&piece.text)]));
}

fn exercises(here: Option<&String>, there: &str, merged: &mut Merged) {
    let here = here.map_or("", String::as_str);
    let mut own = Own::default();
    let unread = !own.take(here).refused.is_empty();
    let opened = own.take(there);
    merged.told.exercises = opened.new;
    if opened.new > 0 {
        merged.put.insert("exercises".to_owned(), beside(here, unread, own.to_text()));
    }
    if !opened.refused.is_empty() {
        merged.told.unread.push("exercises".to_owned());
        merged.aside.push(("exercises".to_owned(), there.to_owned()));
    }
}

/// What comes in the place of what is here; where that has lines that cannot be read, all of it stays in front.
fn beside(here: &str, unread: bool, text: String) -> String {
    if unread { format!("{here}\n{text}") } else { text }
}

fn class(here: Option<&String>, there: &str, merged: &mut Merged) {
    let here = here.map_or("", String::as_str);
    let mut sheet = ClassSheet::default();
    let unread = !sheet.take(here).refused.is_empty();
    let before = sheet.to_text();
    let mut refused = false;
    for line in there.lines() {
        let (link, name) =
            line.split_once('\t').map_or((line, None), |(link, name)| (link, Some(name.trim())));
        let payload = link.trim_start_matches("#/r/");
        let called =
            sheet.entries().iter().find(|one| one.payload == payload).and_then(|one| one.called.clone());
        // A name that was given here is not taken away by another from there.
        let other = called.filter(|called| name != Some(called.as_str()));
        if let (Some(called), Some(_)) = (&other, name) {
            merged.told.names.push(called.clone());
        }
        let taken = sheet.take(if other.is_some() { link } else { line });
        merged.told.slips += taken.new;
        refused |= !taken.refused.is_empty();
    }
    let after = sheet.to_text();
    if after != before {
        merged.put.insert("class".to_owned(), beside(here, unread, after));
    }
    if refused {
        merged.told.unread.push("class".to_owned());
        merged.aside.push(("class".to_owned(), there.to_owned()));
    }
}

/// The learner's own texts as they are kept.
#[derive(serde::Serialize, serde::Deserialize)]
struct Shelf {
    version: u32,
    value: Vec<BTreeMap<String, Value>>,
}

fn title_of(one: &BTreeMap<String, Value>) -> &str {
    one.get("title").and_then(Value::as_str).unwrap_or_default()
}

/// What stands on the shelf. However many texts have one title, each is looked at a few times only.
#[derive(Default)]
struct Stood {
    /// Texts by their titles.
    texts: BTreeMap<String, String>,
    /// For a title that was asked for: the texts under it and under it with a number, and the first number that was free.
    under: BTreeMap<String, (BTreeSet<String>, usize)>,
}

impl Stood {
    fn put(&mut self, one: &BTreeMap<String, Value>) {
        let text = one.get("text").unwrap_or(&Value::Null).to_string();
        self.texts.entry(title_of(one).to_owned()).or_insert(text);
    }

    /// The first title that is free for a text; none when it stands there, under its title or under one that it was given at an
    /// earlier merging.
    fn free_for(&mut self, own: &BTreeMap<String, Value>) -> Option<String> {
        let title = title_of(own);
        let (there, next) = self.under.entry(title.to_owned()).or_insert_with(|| (BTreeSet::new(), 1));
        loop {
            let free = if *next == 1 { title.to_owned() } else { format!("{title} ({next})") };
            let Some(text) = self.texts.get(&free) else {
                let text = own.get("text").unwrap_or(&Value::Null).to_string();
                return (!there.contains(&text)).then_some(free);
            };
            there.insert(text.clone());
            *next += 1;
        }
    }
}

/// Texts of one's own: what has a title that is taken stands beside it under the next that is free.
fn texts(key: &str, here: Option<&String>, there: &str, merged: &mut Merged) {
    let read = |text: &str| {
        let shelf: Shelf = serde_json::from_str(text).ok()?;
        let whole = |one: &BTreeMap<String, Value>| {
            one.get("title").is_some_and(Value::is_string) && one.contains_key("text")
        };
        (shelf.version == 1 && shelf.value.iter().all(whole)).then_some(shelf)
    };
    let shelf = here.map_or(Some(Shelf { version: 1, value: Vec::new() }), |here| read(here));
    let (Some(mut shelf), Some(there_read)) = (shelf, read(there)) else {
        merged.told.unread.push(key.to_owned());
        merged.aside.push((key.to_owned(), there.to_owned()));
        return;
    };
    if here.is_none() {
        merged.told.texts = there_read.value.len();
        merged.put.insert(key.to_owned(), there.to_owned());
        return;
    }
    let mut stood = Stood::default();
    for one in &shelf.value {
        stood.put(one);
    }
    for mut own in there_read.value {
        if let Some(free) = stood.free_for(&own) {
            own.insert("title".to_owned(), free.into());
            stood.put(&own);
            shelf.value.push(own);
            merged.told.texts += 1;
        }
    }
    if merged.told.texts > 0
        && let Ok(text) = serde_json::to_string(&shelf)
    {
        merged.put.insert(key.to_owned(), text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Exercise, Slip};
    use crate::practice::record::Record;
    use proptest::prelude::*;

    /// A browser, as far as a person's work in it goes.
    #[derive(Clone, Debug, Default, PartialEq)]
    struct Place {
        here: Pieces,
        known: Known,
        aside: Vec<(String, String)>,
    }

    impl Place {
        fn of(pieces: &[(&str, &str)]) -> Place {
            let here = pieces.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect();
            Place { here, ..Place::default() }
        }

        fn write(&mut self, key: &str, text: &str) {
            self.here.insert(key.to_owned(), text.to_owned());
        }

        /// As a file, which is read again.
        fn take_home(&mut self) -> Home {
            let home = Home::gather("", "2026-11-29", &Record::default(), &self.here, &mut self.known);
            Home::from_text(&home.to_text()).unwrap().0
        }

        fn open(&mut self, file: &Home) -> Told {
            self.open_and(file, false)
        }

        fn open_and(&mut self, file: &Home, back: bool) -> Told {
            let merged = merge(&self.here, &self.known, file, back);
            self.here.extend(merged.put);
            self.known = merged.known;
            for one in merged.aside {
                // As the browser's store does: what is set aside already is not set aside again.
                if !self.aside.contains(&one) {
                    self.aside.push(one);
                }
            }
            merged.told
        }
    }

    const DRAFT: &str = "work.write.00000000.4";

    #[test]
    fn all_of_it_is_there_in_a_fresh_browser_and_nothing_is_doubled() {
        let mut library = Place::of(&[("settings", "{}"), (DRAFT, "one"), ("session", "half")]);
        let file = library.take_home();
        let mut home = Place::default();
        let told = home.open(&file);
        assert_eq!(home.here, library.here);
        assert_eq!(told.words(12), ["Taken in: 12 entries of the record, 3 pieces of work and settings."]);
        let before = home.clone();
        assert_eq!(home.open(&file).words(0), ["All of it is here already."]);
        assert_eq!(home, before);
    }

    #[test]
    fn what_was_changed_in_one_place_is_taken_from_there() {
        let mut home = Place::of(&[(DRAFT, "one")]);
        let first = home.take_home();
        let mut library = Place::default();
        library.open(&first);
        library.write(DRAFT, "one two");
        let second = library.take_home();
        let told = home.open(&second);
        assert_eq!((home.here[DRAFT].as_str(), told.later.as_slice()), ("one two", &[DRAFT.to_owned()][..]));
        // Gone on here: an older file changes nothing.
        home.write(DRAFT, "one two three");
        for file in [&second, &first] {
            let told = home.open(file);
            assert_eq!((home.here[DRAFT].as_str(), told.stays.len()), ("one two three", 1));
        }
        assert!(home.aside.is_empty());
    }

    #[test]
    fn what_was_changed_in_both_places_is_set_aside_once() {
        let mut home = Place::of(&[(DRAFT, "one")]);
        let mut library = Place::default();
        library.open(&home.take_home());
        library.write(DRAFT, "there");
        home.write(DRAFT, "here");
        let file = library.take_home();
        for _ in 0..3 {
            let told = home.open(&file);
            assert_eq!(
                (home.here[DRAFT].as_str(), told.differs.as_slice()),
                ("here", &[DRAFT.to_owned()][..])
            );
            assert_eq!(home.aside, [(DRAFT.to_owned(), "there".to_owned())]);
            assert_eq!(
                told.words(0),
                [
                    "Changed both here and there: what is here stays, and what the file has is set aside: What is written in Write."
                ]
            );
        }
        // Two that never met differ as well.
        let mut other = Place::of(&[("settings", "dark")]);
        let told = other.open(&Place::of(&[("settings", "light")]).take_home());
        assert_eq!((other.here["settings"].as_str(), told.differs.len()), ("dark", 1));
    }

    #[test]
    fn what_was_put_away_comes_back_only_when_asked_for() {
        let mut home = Place::default();
        let file = Place::of(&[("session", "half done")]).take_home();
        home.open(&file);
        home.here.remove("session");
        assert_eq!(home.open(&file).put_away, ["session"]);
        assert!(home.here.is_empty());
        assert_eq!(home.open_and(&file, true).new, ["session"]);
        assert_eq!(home.here["session"], "half done");
    }

    fn slip(by: &str) -> String {
        let set = Exercise { title: "Notice 2".into(), text: "the mother met".into(), ..Exercise::default() };
        let slip =
            Slip { by: by.into(), work: "! mother".into(), asked: 3, set: Some(set), ..Slip::default() };
        format!("#/r/{}", slip.to_payload().unwrap())
    }

    #[test]
    fn slips_of_both_are_on_the_sheet_and_names_given_here_stay() {
        let (ida, tam, orrin) = (slip("Ida"), slip("Tam"), slip("Orrin"));
        let mut here = Place::of(&[("class", &format!("{ida}\tIda B\n{tam}\n"))]);
        let file = Place::of(&[("class", &format!("{ida}\tIda C\n{tam}\tTam T\n{orrin}\n"))]).take_home();
        let told = here.open(&file);
        assert_eq!((told.slips, told.names.as_slice()), (1, &["Ida B".to_owned()][..]));
        assert_eq!(here.here["class"], format!("{ida}\tIda B\n{tam}\tTam T\n{orrin}\n"));
        let before = here.clone();
        here.open(&file);
        assert_eq!(here, before);
        // A sheet that cannot be read in full is set aside as well, not dropped.
        let torn = Place::of(&[("class", &format!("{}\n", &ida[..40]))]).take_home();
        assert_eq!(here.open(&torn).unread, ["class"]);
        assert_eq!(here.aside.len(), 1);
    }

    #[test]
    fn exercises_of_both_are_on_the_shelf() {
        let of = |title: &str| {
            let set = Exercise { title: title.into(), text: "The ferry.".into(), ..Exercise::default() };
            format!("#/x/{}\n", set.to_payload().unwrap())
        };
        let mut here = Place::of(&[("exercises", &of("a"))]);
        let file = Place::of(&[("exercises", &(of("a") + &of("b")))]).take_home();
        assert_eq!(here.open(&file).exercises, 1);
        assert_eq!(here.here["exercises"], of("a") + &of("b"));
        assert_eq!(here.open(&file), Told::default());
        // What cannot be read here stays.
        let mut here = Place::of(&[("exercises", "#/x/2-cut\n")]);
        assert_eq!(here.open(&file).exercises, 2);
        assert_eq!(here.here["exercises"], format!("#/x/2-cut\n\n{}{}", of("a"), of("b")));
        assert_eq!(here.open(&file), Told::default());
    }

    fn shelf(texts: &[(&str, &str)]) -> String {
        let one = |(title, text): &(&str, &str)| serde_json::json!({"title": title, "text": text, "brf": false, "contracted": true, "older": 0});
        serde_json::json!({"version": 1, "value": texts.iter().map(one).collect::<Vec<_>>()}).to_string()
    }

    #[test]
    fn texts_of_both_are_on_the_shelf_under_titles_of_their_own() {
        let mut here = Place::of(&[("shelf", &shelf(&[("The log", "mine"), ("A letter", "same")]))]);
        let file = Place::of(&[(
            "shelf",
            &shelf(&[("The log", "another"), ("A letter", "same"), ("The menu", "soup")]),
        )])
        .take_home();
        for texts in [2, 0, 0] {
            assert_eq!(here.open(&file).texts, texts);
            let kept: Value = serde_json::from_str(&here.here["shelf"]).unwrap();
            let all: Vec<(&str, &str)> = kept["value"]
                .as_array()
                .unwrap()
                .iter()
                .map(|one| (one["title"].as_str().unwrap(), one["text"].as_str().unwrap()))
                .collect();
            assert_eq!(
                all,
                [("The log", "mine"), ("A letter", "same"), ("The log (2)", "another"), ("The menu", "soup")]
            );
        }
        // What is no shelf stays aside.
        let bad = Place::of(&[("shelf", "{\"version\":1,\"value\":[{\"text\":\"x\"}]}")]).take_home();
        assert_eq!(here.open(&bad).unread, ["shelf"]);
    }

    /// A file made to harm: every text of one title, or of titles that look like those given here. However many there are,
    /// each is looked at a few times only.
    #[test]
    fn many_texts_of_one_title_are_merged_in_step_with_their_number() {
        let many = |number: usize| {
            let texts: Vec<(String, String)> = (0..number)
                .map(|n| (if n % 2 == 0 { "a".to_owned() } else { format!("a ({n})") }, format!("text {n}")))
                .collect();
            shelf(&texts.iter().map(|(title, text)| (title.as_str(), text.as_str())).collect::<Vec<_>>())
        };
        let file = Place::of(&[("shelf", &many(20_000))]).take_home();
        let mut here = Place::of(&[("shelf", &shelf(&[("a", "mine")]))]);
        let begun = std::time::Instant::now();
        assert_eq!(here.open(&file).texts, 20_000);
        let took = begun.elapsed();
        assert!(took.as_secs() < 20, "{took:?}");
        let kept: Value = serde_json::from_str(&here.here["shelf"]).unwrap();
        let titles: BTreeSet<&str> =
            kept["value"].as_array().unwrap().iter().map(|one| one["title"].as_str().unwrap()).collect();
        assert_eq!(titles.len(), 20_001, "no title twice");
        assert_eq!(here.open(&file).texts, 0);
        println!("20,000 texts in {took:?}");
    }

    #[test]
    fn what_this_page_does_not_know_is_told_and_not_taken() {
        let mut file = Place::of(&[(DRAFT, "one")]).take_home();
        for key in ["colour", "open.write", "journal.1", "home", "work.\u{7}"] {
            file.pieces.insert(key.to_owned(), Piece { text: "x".to_owned(), was: Vec::new() });
        }
        let mut here = Place::default();
        assert_eq!(here.open(&file).unknown, 5);
        assert_eq!(here.here.len(), 1);
    }

    #[test]
    fn what_was_set_aside_goes_along() {
        let file = Place::of(&[("work.write.1.aside2", "before")]).take_home();
        let mut here = Place::default();
        here.open(&file);
        here.open(&file);
        assert_eq!(here.aside, [("work.write.1".to_owned(), "before".to_owned())]);
    }

    const KEYS: [&str; 3] = ["settings", DRAFT, "session"];

    proptest! {
        /// However people write here and there and carry files to and fro: no text that was written last in a place is ever
        /// gone from it but for a later one, and a file opened again adds nothing.
        #[test]
        fn nothing_is_overwritten_in_silence(steps in prop::collection::vec((0usize..2, 0usize..3, 0usize..3), 1..30)) {
            let mut places = [Place::default(), Place::default()];
            // Every text holds all that it was made from, so that a later one tells itself.
            let mut number = 0;
            for (place, what, key) in steps {
                if what < 2 {
                    number += 1;
                    let before = places[place].here.get(KEYS[key]).cloned().unwrap_or_default();
                    places[place].write(KEYS[key], &format!("{before}{number};"));
                    continue;
                }
                let file = places[place].take_home();
                let other = &mut places[1 - place];
                let before = other.clone();
                other.open(&file);
                for (key, text) in &before.here {
                    let now = &other.here[key];
                    prop_assert!(now == text || now.starts_with(text.as_str()), "{text} has become {now}");
                }
                for (key, piece) in &file.pieces {
                    let now = &other.here[key];
                    let aside = other.aside.contains(&(key.clone(), piece.text.clone()));
                    prop_assert!(now.starts_with(&piece.text) || aside, "{} is lost", piece.text);
                }
                let once = other.clone();
                other.open(&file);
                prop_assert_eq!(&*other, &once);
            }
        }
    }
}
