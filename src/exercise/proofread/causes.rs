//! What this learner slips at, from what graders told and what the record holds: it is planted first.

use std::collections::HashMap;

use crate::marking::{Kind, shape};
use crate::ueb::register::{self, Sign};

/// So many kinds and signs are planted first.
const KINDS: usize = 4;
const SIGNS: usize = 6;

/// The learner's own causes as [`super::Plants::own`] holds them: names of kinds and keys of signs, the most frequent of
/// each first. `told` are the kinds and signs that graders marked; `wrong` are mistakes in writing, each with the sign
/// asked for and the one written instead.
pub fn own_causes<'a>(
    told: impl Iterator<Item = (Kind, &'a str)>,
    wrong: impl Iterator<Item = (&'a str, &'a str)>,
) -> Vec<String> {
    let (mut kinds, mut signs) = (Counts::default(), Counts::default());
    for (kind, sign) in told {
        // What a grader has marked counts for several of the page's own.
        kinds.add(kind.name(), 3);
        if register::by_key(sign).is_some() {
            signs.add(sign, 3);
        }
    }
    for (sign, instead) in wrong {
        let Some(asked) = register::by_key(sign) else { continue };
        signs.add(asked.key, 1);
        if let Some(kind) = kind_of(asked, register::by_key(instead)) {
            kinds.add(kind.name(), 1);
        }
    }
    kinds.most(KINDS).into_iter().chain(signs.most(SIGNS)).map(str::to_owned).collect()
}

/// What kind of mistake it is to write one sign for another.
fn kind_of(asked: &Sign, written: Option<&Sign>) -> Option<Kind> {
    let written = written?;
    match (&asked.cells[..], &written.cells[..]) {
        ([a], [w]) => shape::shapes(*a, *w).first().copied().or(Some(Kind::WrongSign)),
        (a, w) if a.len() == w.len() + 1 && a[0].is_prefix() && a.ends_with(w) => Some(Kind::LostPrefix),
        (a, w) if a.len() == w.len() && a[0].is_prefix() && w[0].is_prefix() && a[1..] == w[1..] => {
            Some(Kind::LostPrefix)
        }
        _ => Some(Kind::WrongSign),
    }
}

/// How often each name came, in the order they came first.
#[derive(Default)]
struct Counts<'a>(Vec<(&'a str, usize)>, HashMap<&'a str, usize>);

impl<'a> Counts<'a> {
    fn add(&mut self, name: &'a str, count: usize) {
        let at = *self.1.entry(name).or_insert(self.0.len());
        match self.0.get_mut(at) {
            Some(one) => one.1 += count,
            None => self.0.push((name, count)),
        }
    }

    fn most(mut self, count: usize) -> Vec<&'a str> {
        self.0.sort_by_key(|one| std::cmp::Reverse(one.1));
        self.0.into_iter().take(count).map(|one| one.0).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Plants, proof};
    use super::*;

    // Mirror images and shapes: the cells of sections 4.1 and 10.4 of the standard.
    #[test]
    fn the_most_frequent_cause_comes_first() {
        let told = [(Kind::MissingIndicator, "")];
        let wrong = [
            ("letter e", "letter i"),
            ("letter e", "letter i"),
            ("letter f", "letter d"),
            ("letter e", "letter i"),
            ("letter d", "letter f"),
            ("nothing", "letter i"),
        ];
        let own = own_causes(told.into_iter(), wrong.into_iter());
        assert_eq!(own[0], Kind::Mirrored.name());
        assert_eq!(own[1], Kind::MissingIndicator.name());
        assert_eq!(own[2], "letter e");
        assert_eq!(own_causes([].into_iter(), [].into_iter()), Vec::<String>::new());
    }

    const TEXT: &str = "The ferry leaves from Hallam Quay at 10:30 in the morning, and the mother of the mate is there with her father. Nobody knows where the child went after the storm of 14 May; they looked under every deck and in the ship's boats.";

    #[test]
    fn own_causes_are_planted_first_and_as_many_in_all() {
        for (own, met) in [
            (vec![Kind::Mirrored.name().to_owned()], "kind"),
            (vec![Kind::LostPrefix.name().to_owned(), Kind::MissingIndicator.name().to_owned()], "kind"),
            (vec!["letter o".to_owned()], "sign"),
        ] {
            let (mut mine, mut all, mut before) = (0, 0, 0);
            for seed in 0..60 {
                let plain = Plants { rate: 30, seed, ..Plants::default() };
                before += proof(TEXT, true, &plain).planted.len();
                let sheet = proof(TEXT, true, &Plants { own: own.clone(), ..plain });
                all += sheet.planted.len();
                let is_own = |mistake: &&super::super::Mistake| match met {
                    "kind" => own.iter().any(|name| name == mistake.kind.name()),
                    _ => mistake.sign.is_some_and(|sign| own.iter().any(|key| key == sign)),
                };
                mine += sheet.planted.iter().filter(is_own).count();
            }
            // A sign has few places, and what is told of a mistake is not always about the sign itself.
            let least = if met == "kind" { 2 } else { 3 };
            assert!(mine * least >= all, "{own:?}: {mine} of {all}");
            assert!(all * 10 >= before * 6 && all * 10 <= before * 15, "{own:?}: {all} and {before} without");
        }
    }

    /// In the texts that come with the page, with faults of layout among them as the room asks for them.
    #[test]
    fn own_causes_come_first_in_the_texts_of_the_page() {
        let texts = include_str!("../../../www/data/passages.txt");
        let own = vec![Kind::Mirrored.name().to_owned(), "letter i".to_owned()];
        for passage in crate::practice::passages::parse(texts).iter().filter(|one| one.contracted).take(3) {
            for rate in [8, 20, 45, 90] {
                let (mut mine, mut others) = (0, 0);
                for seed in 0..60 {
                    let plants = Plants { rate, seed, layout: true, own: own.clone(), ..Plants::default() };
                    let planted = proof(&passage.text, true, &plants).planted;
                    let layout = planted.iter().filter(|one| one.say.contains("(rule ")).count();
                    let mirrored = planted.iter().filter(|one| one.kind == Kind::Mirrored).count();
                    assert!(
                        layout >= 1,
                        "{}, {rate} in a thousand, seed {seed}: no fault of layout",
                        passage.title
                    );
                    (mine, others) = (mine + mirrored, others + planted.len() - layout - mirrored);
                }
                assert!(mine > others, "{}, {rate} in a thousand: {mine}, {others} others", passage.title);
            }
        }
    }
}
