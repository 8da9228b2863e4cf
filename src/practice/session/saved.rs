//! A session as text, so that a reload or a closed tab comes back to the same item.
//!
//! What the record holds is not written once more: the memories and the place are worked out of it anew. A line a thing,
//! fields parted by tabs; what cannot be read is no session.

use std::collections::HashSet;
use std::fmt::Write as _;

use super::LONGEST_COUNTED;
use super::place::Place;
use super::{Item, Part, Rules, Session, Touched, Wishes, apply, summary};
use crate::cell;
use crate::practice::due::Memories;
use crate::practice::line::Line;
use crate::practice::record::{Direction, Record};
use crate::practice::{drill, units};
use crate::ueb::register;

/// The head line.
const HEAD: &str = "cellwright session 1";
/// A session that was left longer ago than this is over, in milliseconds: another day has begun.
const TOO_LONG_AGO: u64 = 12 * 3_600_000;
/// No session lasts longer, in minutes.
const LONGEST: u32 = 120;

fn key_of(text: &str) -> Option<&'static str> {
    register::by_key(text).map(|sign| sign.key)
}

fn keys_of(text: &str) -> Option<Vec<&'static str>> {
    text.split('|').filter(|key| !key.is_empty()).map(key_of).collect()
}

fn maybe(text: &str) -> Option<&str> {
    (text != "-").then_some(text)
}

/// "-" for nothing.
fn or_none<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(|| "-".to_owned(), |value| value.to_string())
}

fn flag(text: &str) -> Option<bool> {
    match text {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}

fn yes_no(flag: bool) -> &'static str {
    if flag { "yes" } else { "no" }
}

const PARTS: [(Part, &str); 4] =
    [(Part::Signs, "signs"), (Part::Applying, "applying"), (Part::Closing, "closing"), (Part::Over, "over")];

const USES: [(apply::Use, char); 3] =
    [(apply::Use::ReadLine, 'r'), (apply::Use::WriteLine, 'w'), (apply::Use::Rule, 'u')];

/// An item in a line.
pub(super) fn item_line(item: &Item) -> String {
    let line = |how: &str, line: &Line| {
        format!("{how}\t{}\t{}\t{}", yes_no(line.contracted), line.print, cell::to_ascii(&line.cells))
    };
    match item {
        Item::Show(key) => format!("show\t{key}"),
        Item::Ask(asked) => format!("ask\t{}\t{}", asked.sign, asked.direction.name()),
        Item::Read(of) => line("read", of),
        Item::Write(of) => line("write", of),
        Item::Rule(section, of) => format!("rule\t{section}\t{}", of.word),
    }
}

pub(super) fn item_of(fields: &[&str], again: Rules) -> Option<Item> {
    let line = |contracted: &str, print: &str, cells: &str| {
        let cells = cell::from_ascii(cells)?;
        Some(Line { print: print.to_owned(), cells, contracted: flag(contracted)? })
    };
    Some(match *fields {
        ["show", key] => Item::Show(key_of(key)?),
        ["ask", key, direction] => {
            let of = |one: &&Direction| one.name() == direction;
            Item::Ask(drill::Item { sign: key_of(key)?, direction: *Direction::SIGNS.iter().find(of)? })
        }
        ["read", contracted, print, cells] => Item::Read(line(contracted, print, cells)?),
        ["write", contracted, print, cells] => Item::Write(line(contracted, print, cells)?),
        // Only the whole page can take a word apart; the half goes on with another item.
        ["rule", section, word] => Item::Rule((again.0?.clause)(section)?, (again.0?.again)(word)),
        _ => return None,
    })
}

impl Session {
    /// The session as text, with the item that is asked.
    pub fn to_text(&self) -> String {
        let mut out = format!("{HEAD}\n");
        let Wishes { minutes, slate, start, rules } = self.wishes;
        let _ = writeln!(out, "wishes\t{minutes}\t{}\t{}\t{:?}", yes_no(slate), or_none(start), rules);
        let _ = writeln!(out, "clock\t{}\t{}\t{}\t{}", self.clock, self.practised, self.took, self.usually);
        let part = PARTS.iter().find(|(part, _)| *part == self.part).map_or("over", |(_, name)| name);
        let _ = writeln!(
            out,
            "at\t{part}\t{}\t{}\t{}\t{}\t{}\t{}",
            self.step,
            self.words,
            self.new_left,
            or_none(self.shown),
            or_none(self.last),
            self.chance.get_seed()
        );
        for one in &self.touched {
            let _ = writeln!(
                out,
                "sign\t{}\t{}\t{}\t{}\t{}\t{}\t{}",
                one.key,
                yes_no(one.new),
                one.asked,
                one.row,
                yes_no(one.slipped),
                one.more,
                or_none(one.again)
            );
        }
        let uses: String = self
            .uses
            .iter()
            .filter_map(|of| USES.iter().find(|(one, _)| one == of))
            .map(|(_, c)| *c)
            .collect();
        let _ = writeln!(out, "uses\t{uses}");
        let score = &self.score;
        let _ = writeln!(
            out,
            "score\t{}\t{}\t{}\t{}\t{}\t{}",
            score.unit_before,
            score.answers,
            score.wrong,
            score.met.join("|"),
            score.kept.join("|"),
            score.slipped.join("|")
        );
        let _ = writeln!(out, "clauses\t{}\t{}", or_none(self.clause), or_none(self.last_clause));
        if let Some(item) = &self.item {
            let _ = writeln!(out, "item\t{}", item_line(item));
        }
        out
    }

    /// The session that a text holds, on the record as it is now; `None` when it is none, is over, or was left so long ago
    /// that another day has begun. `rules` says whether rules can be asked here.
    pub fn from_text(
        text: &str,
        record: &Record,
        memories: &Memories,
        rules: Rules,
        now: u64,
    ) -> Option<Session> {
        let mut lines = text.lines();
        if lines.next() != Some(HEAD) {
            return None;
        }
        let mut wishes = None;
        let (mut clock, mut at, mut uses, mut score) = (None, None, Vec::new(), None);
        let (mut touched, mut item, mut clauses) = (Vec::new(), None, (None, None));
        for line in lines {
            let fields: Vec<&str> = line.split('\t').collect();
            match fields[..] {
                ["wishes", minutes, slate, start, _] => {
                    let start = maybe(start).map(str::parse::<usize>).transpose().ok()?;
                    wishes = Some(Wishes {
                        minutes: minutes.parse().ok().filter(|minutes| *minutes <= LONGEST)?,
                        slate: flag(slate)?,
                        start: start.filter(|unit| *unit < units::units().len()),
                        rules,
                    });
                }
                ["clock", clock_at, practised, took, usually] => {
                    let number = |text: &str| text.parse::<u64>().ok();
                    clock = Some((number(clock_at)?, number(practised)?, number(took)?, number(usually)?));
                }
                ["at", part, step, words, new_left, shown, last, seed] => {
                    let (part, _) = PARTS.iter().find(|(_, name)| *name == part)?;
                    at = Some((
                        *part,
                        step.parse::<u32>().ok()?,
                        words.parse::<u32>().ok()?,
                        new_left.parse::<usize>().ok()?,
                        maybe(shown).and_then(key_of),
                        maybe(last).and_then(key_of),
                        seed.parse::<u64>().ok()?,
                    ));
                }
                ["sign", key, new, asked, row, slipped, more, again] => touched.push(Touched {
                    key: key_of(key)?,
                    new: flag(new)?,
                    asked: asked.parse().ok()?,
                    row: row.parse().ok()?,
                    slipped: flag(slipped)?,
                    more: more.parse().ok()?,
                    again: maybe(again).map(str::parse).transpose().ok()?,
                }),
                ["uses", letters] => {
                    let of = |c| USES.iter().find(|(_, letter)| *letter == c).map(|(of, _)| *of);
                    uses = letters.chars().filter_map(of).collect();
                }
                ["score", unit_before, answers, wrong, met, kept, slipped] => {
                    score = Some(summary::Score {
                        unit_before: unit_before.parse().ok()?,
                        answers: answers.parse().ok()?,
                        wrong: wrong.parse().ok()?,
                        met: keys_of(met)?,
                        kept: keys_of(kept)?,
                        slipped: keys_of(slipped)?,
                    });
                }
                ["clauses", now, before] => {
                    let known = |section: &str| rules.0.and_then(|make| (make.clause)(section));
                    clauses = (maybe(now).and_then(known), maybe(before).and_then(known));
                }
                ["item", ..] => item = item_of(&fields[1..], rules),
                _ => return None,
            }
        }
        let (wishes, score) = (wishes?, score?);
        let (clock, practised, took, usually) = clock?;
        let (part, step, words, new_left, shown, last, seed) = at?;
        let left_for = now.saturating_sub(clock);
        if part == Part::Over || left_for > TOO_LONG_AGO || score.wrong > score.answers {
            return None;
        }
        let place = Place::of(memories, record, wishes.start);
        let all = units::units().iter().flat_map(|unit| unit.signs.iter().copied());
        let mut met: HashSet<&'static str> = all.filter(|key| place.met(memories, key)).collect();
        met.extend(touched.iter().filter(|one: &&Touched| one.new).map(|one| one.key));
        Some(Session {
            wishes,
            memories: memories.clone(),
            place,
            chance: fastrand::Rng::with_seed(seed),
            part,
            // The time away is no practice; a session that goes on at once goes on as it would have.
            clock: if left_for > LONGEST_COUNTED { now } else { clock },
            practised,
            took,
            usually,
            step,
            words,
            new_left,
            touched,
            shown,
            last,
            uses,
            met,
            clause: clauses.0,
            last_clause: clauses.1,
            item,
            score,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{Learner, NOW, answer, right, wishes};
    use super::*;
    use crate::practice::supply::tests::shipped;

    /// After every item the session is written, read, and goes on as it would have: the same items until its end.
    #[test]
    fn a_session_read_again_goes_on_as_it_would_have() {
        let supply = shipped();
        let (mut learner, mut now) = (Learner::default(), NOW);
        for (start, minutes) in [(None, 10), (Some(11), 5)] {
            let mut session = learner.begin(Wishes { start, ..wishes(minutes) }, now);
            let mut items = 0;
            while session.next(now, Some(&supply)).is_some() {
                items += 1;
                let text = session.to_text();
                let again = Session::from_text(&text, &learner.record, &learner.memories, Rules::ASKED, now)
                    .unwrap_or_else(|| panic!("{text}"));
                assert_eq!(again.item(), session.item());
                assert_eq!(again.to_text(), text);
                assert_eq!((again.unit(), again.left()), (session.unit(), session.left()));
                session = again;
                now += 2_000;
                learner.keep(now, answer(&mut session, &right(), 1_000, now));
            }
            assert!(items > 20, "{items}");
        }
    }

    #[test]
    fn what_is_damaged_or_old_is_no_session() {
        let mut learner = Learner::default();
        let mut session = learner.begin(wishes(5), NOW);
        session.next(NOW, None);
        let text = session.to_text();
        let read =
            |text: &str, now| Session::from_text(text, &learner.record, &learner.memories, Rules::ASKED, now);
        assert!(read(&text, NOW + 3_600_000).is_some());
        // A clock that was set back.
        assert!(read(&text, NOW - 3_600_000).is_some());
        assert!(read(&text, NOW + 2 * TOO_LONG_AGO).is_none());
        for n in (0..text.len()).step_by(3) {
            // Whatever is cut off or changed, it is a session or none.
            drop(read(&text[..n], NOW));
            let mut bytes = text.clone().into_bytes();
            bytes[n] = b'7';
            if let Ok(changed) = String::from_utf8(bytes)
                && let Some(mut session) = read(&changed, NOW)
            {
                session.next(NOW, None);
            }
        }
    }
}
