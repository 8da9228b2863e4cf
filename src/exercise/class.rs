//! The class sheet: many result slips, a row for each learner and exercise.
//!
//! It is nothing but its slips: saved, it is a text with a slip's fragment a line, so that opening one file among others
//! adds what is new and doubles nothing. Names are what the learners put on their slips; where two learners have one
//! name, the teacher gives a slip another one here.

use std::collections::BTreeMap;

use super::anew::Anew;
use super::envelope::{Kind, LinkError};
use super::{Slip, TITLE, Task, Try};
use crate::marking;
use crate::ueb::register;

/// One slip of the sheet; of a set's slip, one of its exercises.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The slip's payload, as its link carries it.
    pub payload: String,
    /// Which exercise of a set this is, from 0.
    pub part: Option<usize>,
    /// The slip.
    pub slip: Slip,
    /// Each try marked on this computer.
    pub anew: Vec<Option<Anew>>,
    /// The name that the teacher gave it in place of the learner's own.
    pub called: Option<String>,
}

impl Entry {
    /// Who it is from: the name the teacher gave, or the one on the slip; may be empty.
    pub fn who(&self) -> &str {
        self.called.as_deref().unwrap_or(self.slip.by.trim())
    }

    /// What the slip says of its last try: so much right, of so much. Nothing where nothing was handed in.
    pub fn told(&self) -> Option<(u32, u32)> {
        self.slip.tries().last().map(|last| (last.right, last.asked))
    }

    /// What was right in the last try, of how much: as marked here where that can be done.
    pub fn score(&self) -> Option<(u32, u32)> {
        self.scores().pop()
    }

    /// The same of the first try.
    pub fn first_score(&self) -> Option<(u32, u32)> {
        self.scores().into_iter().next()
    }

    fn scores(&self) -> Vec<(u32, u32)> {
        let here = |(told, anew): (Try, &Option<Anew>)| {
            anew.as_ref().map_or((told.right, told.asked), |anew| (anew.right, anew.asked))
        };
        self.slip.tries().into_iter().zip(&self.anew).map(here).collect()
    }

    /// Whether the slip says something else of a try than the marking here.
    pub fn differs(&self) -> bool {
        let tries = self.slip.tries();
        self.anew.iter().zip(&tries).any(|(anew, told)| anew.as_ref().is_some_and(|anew| anew.differs(told)))
    }

    /// Whether all of it could be marked here.
    pub fn checked(&self) -> bool {
        self.anew.iter().all(Option::is_some)
    }

    /// How long all tries took, in seconds; `None` for a time that no work takes.
    pub fn seconds(&self) -> Option<u32> {
        self.slip.time()
    }

    /// Whether help was used in any try.
    pub fn helped(&self) -> bool {
        self.slip.tries().iter().any(|one| one.helped)
    }

    /// How often each kind of mistake stands in the last try, as marked here; empty where that can't be done.
    pub fn kinds(&self) -> BTreeMap<marking::Kind, u32> {
        self.anew.last().and_then(Option::as_ref).map(|anew| anew.kinds.clone()).unwrap_or_default()
    }
}

/// One learner's work on one exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Who; may be empty.
    pub who: String,
    /// The exercise's title; may be empty.
    pub title: String,
    /// What was to do.
    pub task: Task,
    /// The slips, by their place in [`ClassSheet::entries`], the earliest day first.
    pub slips: Vec<usize>,
}

/// What came of taking slips in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// Slips that are new on the sheet.
    pub new: usize,
    /// Slips that were there already.
    pub doubled: usize,
    /// Links of exercises, which are no slips.
    pub exercises: usize,
    /// Slips that could not be opened, and why.
    pub refused: Vec<LinkError>,
}

/// What mistakes cost a class.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Costs {
    /// Kinds of mistakes, each with how often.
    pub kinds: Vec<(marking::Kind, u32)>,
    /// The keys of the signs at fault, each with how often.
    pub signs: Vec<(&'static str, u32)>,
}

/// The slips of a class.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ClassSheet {
    entries: Vec<Entry>,
}

impl ClassSheet {
    /// The slips, in the order in which they came.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Takes in every slip that stands in a text: links pasted in any way, a slip's file, a saved class sheet.
    pub fn take(&mut self, text: &str) -> Taken {
        let mut taken = Taken::default();
        for line in text.lines() {
            let called = line.split_once('\t').map(|(_, name)| name.trim()).filter(|name| !name.is_empty());
            for behind in line.split(Kind::Slip.address()).skip(1) {
                self.take_one(payload_in(behind), called, &mut taken);
            }
            taken.exercises += line.matches(Kind::Exercise.address()).count();
        }
        taken
    }

    /// The lines of a text that hold no slip, or one that cannot be opened: they stay where they were pasted.
    pub fn not_taken(text: &str) -> String {
        let opens = |behind: &str| Slip::from_payload(payload_in(behind)).is_ok();
        let taken = |line: &&str| {
            let mut slips = line.split(Kind::Slip.address()).skip(1).peekable();
            slips.peek().is_some() && slips.all(opens)
        };
        let left: Vec<&str> =
            text.lines().filter(|line| !line.trim().is_empty()).filter(|line| !taken(line)).collect();
        left.join("\n")
    }

    fn take_one(&mut self, payload: &str, called: Option<&str>, taken: &mut Taken) {
        if let Some(at) = self.entries.iter().position(|entry| entry.payload == payload) {
            taken.doubled += 1;
            if let Some(name) = called {
                self.call(at, name);
            }
            return;
        }
        match Slip::from_payload(payload) {
            Ok(slip) => {
                taken.new += 1;
                let at = self.entries.len();
                self.put(payload, slip);
                if let Some(name) = called {
                    self.call(at, name);
                }
            }
            Err(error) => taken.refused.push(error),
        }
    }

    /// A set's slip stands here as one of each of its exercises.
    fn put(&mut self, payload: &str, slip: Slip) {
        let mut entry = |part: Option<usize>, slip: Slip| {
            let anew = slip.all_marked_anew();
            self.entries.push(Entry { payload: payload.to_owned(), part, slip, anew, called: None });
        };
        if slip.parts.is_empty() {
            return entry(None, slip);
        }
        for (at, part) in slip.parts.into_iter().enumerate() {
            entry(Some(at), Slip { by: slip.by.clone(), ..part });
        }
    }

    /// Gives a slip another name than the learner put on it; an empty one takes that back. At most [`TITLE`] characters
    /// on one line.
    pub fn call(&mut self, at: usize, name: &str) {
        // All exercises of a set's slip are one learner's.
        let payload = self.entries.get(at).map(|entry| entry.payload.clone());
        for entry in self.entries.iter_mut().filter(|entry| Some(&entry.payload) == payload.as_ref()) {
            let plain: String = name.chars().filter(|c| !c.is_control()).take(TITLE).collect();
            let plain = plain.trim();
            entry.called = (!plain.is_empty() && plain != entry.slip.by.trim()).then(|| plain.to_owned());
        }
    }

    /// Takes a slip off the sheet, of a set with all its exercises.
    pub fn drop(&mut self, at: usize) {
        if let Some(payload) = self.entries.get(at).map(|entry| entry.payload.clone()) {
            self.entries.retain(|entry| entry.payload != payload);
        }
    }

    /// The sheet as a text to save: a slip's fragment a line, behind a tab the name that the teacher gave.
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        for entry in self.entries.iter().filter(|entry| entry.part.unwrap_or(0) == 0) {
            text.push_str(Kind::Slip.address());
            text.push_str(&entry.payload);
            if let Some(name) = &entry.called {
                text.push('\t');
                text.push_str(name);
            }
            text.push('\n');
        }
        text
    }

    /// A row for each learner and exercise, by name and then title. Slips without a name have a row each.
    pub fn rows(&self) -> Vec<Row> {
        let mut rows: BTreeMap<(String, String, &str, String, usize), Row> = BTreeMap::new();
        for (at, entry) in self.entries.iter().enumerate() {
            let who = entry.who().to_owned();
            // Exercises of one title with other texts are others.
            let text = entry.slip.set.as_ref().map(|set| set.text.clone()).unwrap_or_default();
            let alone = if who.is_empty() { at + 1 } else { 0 };
            let key = (who.to_lowercase(), entry.slip.title.clone(), entry.slip.task.words(), text, alone);
            let row = rows.entry(key).or_insert_with(|| Row {
                who,
                title: entry.slip.title.clone(),
                task: entry.slip.task,
                slips: Vec::new(),
            });
            row.slips.push(at);
        }
        let mut rows: Vec<Row> = rows.into_values().collect();
        for row in &mut rows {
            row.slips
                .sort_by(|a, b| self.entries[*a].slip.day.cmp(&self.entries[*b].slip.day).then(a.cmp(b)));
        }
        rows
    }

    /// What cost the class most, the dearest first.
    pub fn costs(&self) -> Costs {
        let mut kinds: BTreeMap<marking::Kind, u32> = BTreeMap::new();
        let mut signs: BTreeMap<&'static str, u32> = BTreeMap::new();
        // The first try: what was mended in the next is what cost something all the same.
        for anew in self.entries.iter().filter_map(|entry| entry.anew.first()?.as_ref()) {
            for (kind, times) in &anew.kinds {
                *kinds.entry(*kind).or_default() += times;
            }
            for (key, times) in &anew.signs {
                *signs.entry(*key).or_default() += times;
            }
        }
        let mut kinds: Vec<_> = kinds.into_iter().collect();
        let mut signs: Vec<_> = signs.into_iter().collect();
        kinds.sort_by_key(|(_, times)| std::cmp::Reverse(*times));
        signs.sort_by_key(|(_, times)| std::cmp::Reverse(*times));
        Costs { kinds, signs }
    }

    /// The signs that cost the class most, as keys for an exercise on them, at most so many.
    pub fn dearest_signs(&self, most: usize) -> Vec<String> {
        let known = |key: &&str| register::by_key(key).is_some();
        self.costs()
            .signs
            .into_iter()
            .map(|(key, _)| key)
            .filter(known)
            .take(most)
            .map(str::to_owned)
            .collect()
    }

    /// The rows as comma-separated values (RFC 4180), with a head line. A name that a spreadsheet would take for a formula has
    /// an apostrophe before it (common practice).
    ///
    /// # Errors
    /// Those of writing into memory: none is known.
    pub fn to_csv(&self) -> Result<String, csv::Error> {
        let mut csv = csv::Writer::from_writer(Vec::new());
        csv.write_record([
            "Who",
            "Exercise",
            "Task",
            "Slips",
            "Tries",
            "First right",
            "First of",
            "Last right",
            "Last of",
            "Minutes",
            "Help",
            "Mistakes",
            "Signs",
            "Differs from the slip",
        ])?;
        for row in self.rows() {
            let all = || row.slips.iter().filter_map(|at| self.entries.get(*at));
            let minutes: Option<u32> = all().map(Entry::seconds).sum();
            let (first, last) = (all().find_map(Entry::first_score), all().rev().find_map(Entry::score));
            let number = |score: Option<(u32, u32)>, of: fn((u32, u32)) -> u32| {
                score.map_or(String::new(), |score| of(score).to_string())
            };
            let (mut mistakes, mut signs) = (Vec::new(), Vec::new());
            if let Some(anew) = all().next_back().and_then(|entry| entry.anew.last()?.as_ref()) {
                mistakes.extend(anew.kinds.iter().map(|(kind, times)| format!("{} {times}", kind.words())));
                signs.extend(anew.signs.iter().map(|(key, times)| format!("{key} {times}")));
            }
            csv.write_record([
                plain_cell(&row.who),
                plain_cell(&row.title),
                row.task.words().to_owned(),
                row.slips.len().to_string(),
                all().map(|entry| entry.slip.tries().len()).sum::<usize>().to_string(),
                number(first, |score| score.0),
                number(first, |score| score.1),
                number(last, |score| score.0),
                number(last, |score| score.1),
                minutes.map_or("unknown".to_owned(), |seconds| seconds.div_ceil(60).to_string()),
                if all().any(Entry::helped) { "used" } else { "not used" }.to_owned(),
                mistakes.join("; "),
                signs.join("; "),
                if all().any(Entry::differs) { "yes" } else { "no" }.to_owned(),
            ])?;
        }
        let bytes = csv.into_inner().map_err(|error| error.into_error())?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }
}

/// The payload at the beginning of a text.
fn payload_in(text: &str) -> &str {
    let end = text.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-' || c == '_'));
    &text[..end.unwrap_or(text.len())]
}

fn plain_cell(text: &str) -> String {
    match text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Exercise;

    fn set(text: &str) -> Exercise {
        Exercise { title: "Notice 2".into(), text: text.into(), ..Exercise::default() }
    }

    /// A slip as a page makes it, of braille in North American braille ASCII.
    fn slip(by: &str, day: &str, work: &str, right: u32) -> Slip {
        Slip {
            title: "Notice 2".into(),
            by: by.into(),
            day: day.into(),
            right,
            asked: 3,
            seconds: 90,
            work: work.into(),
            set: Some(set("the mother met")),
            ..Slip::default()
        }
    }

    fn link(slip: &Slip) -> String {
        format!("https://school.example/braille/#/r/{}", slip.to_payload().unwrap())
    }

    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met".
    #[test]
    fn slips_pasted_in_any_way_are_taken_in_once() {
        let (first, second) =
            (slip("Ida", "2026-11-02", "! mother mit", 1), slip("Ida", "2026-11-09", "! \"m met", 3));
        let mut sheet = ClassSheet::default();
        let text = format!("<{}>, {} and\n{}", link(&first), link(&second), link(&first));
        let taken = sheet.take(&text);
        assert_eq!((taken.new, taken.doubled, taken.exercises), (2, 1, 0));
        assert!(taken.refused.is_empty());
        let rows = sheet.rows();
        assert_eq!(rows.len(), 1);
        assert_eq!((rows[0].who.as_str(), rows[0].slips.as_slice()), ("Ida", &[0, 1][..]));
        let scores: Vec<_> = rows[0].slips.iter().filter_map(|at| sheet.entries()[*at].score()).collect();
        assert_eq!(scores, [(1, 3), (3, 3)]);
        assert!(sheet.entries().iter().all(|entry| !entry.differs()));
        // Saved and opened again, and again, it is the same.
        let mut again = ClassSheet::default();
        assert_eq!(again.take(&sheet.to_text()).new, 2);
        assert_eq!(again.take(&sheet.to_text()).doubled, 2);
        assert_eq!(again, sheet);
    }

    #[test]
    fn what_is_no_slip_of_ours_is_told_apart() {
        let whole = link(&slip("Ida", "2026-11-02", "! \"m met", 3));
        let exercise = format!("https://school.example/#/x/{}", set("the cat").to_payload().unwrap());
        let mut sheet = ClassSheet::default();
        let taken = sheet
            .take(&format!("{exercise}\n{}\n{whole}\nhttps://elsewhere.example/#/r/hello", &whole[..80]));
        assert_eq!((taken.new, taken.exercises, taken.refused.len()), (1, 1, 2));
        let slip = format!("{}{}", Kind::Slip.address(), sheet.entries()[0].payload);
        assert_eq!(ClassSheet::not_taken(&format!("{slip}\tIda\n\n")), "");
        let torn = slip[..slip.len() - 1].to_owned();
        assert_eq!(ClassSheet::not_taken(&format!("{slip}\n{torn}\nhello\n")), format!("{torn}\nhello"));
        assert_eq!(sheet.take("no link at all"), Taken::default());
    }

    #[test]
    fn a_score_that_was_made_up_differs_from_the_marking_here() {
        let mut sheet = ClassSheet::default();
        sheet.take(&link(&slip("Tam", "2026-11-02", "! mother mit", 3)));
        let entry = &sheet.entries()[0];
        assert_eq!((entry.told(), entry.score(), entry.differs()), (Some((3, 3)), Some((1, 3)), true));
        assert!(sheet.to_csv().unwrap().lines().nth(1).unwrap().ends_with(",yes"));
    }

    #[test]
    fn two_learners_of_one_name_are_told_apart_by_the_teacher() {
        let mut sheet = ClassSheet::default();
        sheet.take(&link(&slip("Ida", "2026-11-02", "! \"m met", 3)));
        sheet.take(&link(&slip("Ida", "2026-11-02", "! mother met", 2)));
        sheet.take(&link(&slip("", "2026-11-02", "! mother mit", 1)));
        sheet.take(&link(&slip("", "2026-11-03", "! mother mit", 1)));
        assert_eq!(sheet.rows().len(), 3, "one for Ida, one for each slip without a name");
        sheet.call(1, "Ida L.");
        let who: Vec<String> = sheet.rows().into_iter().map(|row| row.who).collect();
        assert_eq!(who, ["", "", "Ida", "Ida L."]);
        let mut again = ClassSheet::default();
        again.take(&sheet.to_text());
        assert_eq!(again, sheet);
    }

    #[test]
    fn the_class_has_its_own_picture() {
        let mut sheet = ClassSheet::default();
        sheet.take(&link(&slip("Ida", "2026-11-02", "! mother mit", 1)));
        sheet.take(&link(&slip("Tam", "2026-11-02", "! mother met", 2)));
        let Costs { kinds, signs } = sheet.costs();
        assert_eq!(kinds, [(marking::Kind::MissedContraction, 2), (marking::Kind::Mirrored, 1)]);
        assert_eq!(signs[0].1, 2);
        assert_eq!(sheet.dearest_signs(1).len(), 1);
    }

    #[test]
    fn tries_of_one_slip_and_the_exercises_of_a_set_have_their_figures() {
        let set = set("the mother met");
        let first = Try::of(&set, None, "! mother mit".into(), 60, true);
        let second = Try::of(&set, None, "! \"m met".into(), 30, false);
        let other = Exercise { title: "Notice 3".into(), ..set.clone() };
        let parts = vec![Slip::of(&set, &[first, second], None), Slip::of(&other, &[], None)];
        let whole = Slip { by: "Ida".into(), ..Slip::of_set("Week 3", parts) };
        let mut sheet = ClassSheet::default();
        assert_eq!(sheet.take(&link(&whole)).new, 1);
        let rows = sheet.rows();
        assert_eq!(rows.iter().map(|row| row.title.as_str()).collect::<Vec<_>>(), ["Notice 2", "Notice 3"]);
        let done = &sheet.entries()[rows[0].slips[0]];
        assert_eq!((done.first_score(), done.score()), (Some((1, 3)), Some((3, 3))));
        assert_eq!((done.seconds(), done.helped(), done.differs()), (Some(90), true, false));
        let open = &sheet.entries()[rows[1].slips[0]];
        assert_eq!((open.score(), open.checked(), open.seconds()), (None, true, Some(0)));
        assert_eq!(sheet.take(&sheet.to_text()).doubled, 1, "it is one slip");
        sheet.call(1, "Ida L.");
        assert!(sheet.entries().iter().all(|entry| entry.who() == "Ida L."));
        let mut again = ClassSheet::default();
        again.take(&sheet.to_text());
        assert_eq!(again, sheet);
        sheet.drop(1);
        assert!(sheet.entries().is_empty());
    }

    #[test]
    fn a_name_is_no_formula() {
        let mut sheet = ClassSheet::default();
        let formula = "=HYPERLINK(\"https://a.example\",\"x\")";
        sheet.take(&link(&slip(formula, "2026-11-02", "! \"m met", 3)));
        let csv = sheet.to_csv().unwrap();
        let mut read = csv::Reader::from_reader(csv.as_bytes());
        let row = read.records().next().unwrap().unwrap();
        assert_eq!(&row[0], format!("'{formula}").as_str());
    }

    // Two hundred slips are marked and stand in their rows, in step with their number.
    #[test]
    fn a_class_of_many_slips_has_the_figures_of_its_slips() {
        let mut sheet = ClassSheet::default();
        let text: Vec<String> = (0..200)
            .map(|at| {
                let work = ["! \"m met", "! mother mit"][at % 2];
                link(&slip(
                    &format!("Learner {}", at / 2),
                    &format!("2026-11-{:02}", at % 2 + 1),
                    work,
                    [3, 1][at % 2],
                ))
            })
            .collect();
        assert_eq!(sheet.take(&text.join("\n")).new, 200);
        assert_eq!(sheet.rows().len(), 100);
        assert!(sheet.entries().iter().all(|entry| entry.score() == entry.told()));
    }
}
