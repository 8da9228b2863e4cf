//! What signs are called in everyday words: an answer is right by any of a sign's names, however it is spelled.

use std::collections::HashMap;
use std::sync::OnceLock;

/// The names of signs by key, and phrases beside those that the register has for them.
#[derive(Default)]
struct Names {
    of: HashMap<&'static str, Vec<&'static str>>,
    phrases: Vec<(&'static str, &'static str)>,
}

fn names() -> &'static Names {
    static NAMES: OnceLock<Names> = OnceLock::new();
    NAMES.get_or_init(|| {
        let mut names = Names::default();
        for line in include_str!("names.tsv").lines().filter(|line| !line.starts_with("# ")) {
            let fields: Vec<&'static str> = line.split('\t').collect();
            match fields[..] {
                ["=", said, meant] => names.phrases.push((said, meant)),
                [key, list] => drop(names.of.insert(key, list.split('|').collect())),
                _ => {}
            }
        }
        // The longest first: "curly brace" is no "brace".
        names.phrases.sort_by_key(|(said, _)| std::cmp::Reverse(said.len()));
        names
    })
}

/// An answer without what does not matter: letter case, hyphens, "the", remarks in brackets, American or British spelling.
pub fn plain(text: &str) -> String {
    let text = text.trim().to_lowercase();
    let text = text.split(" (").next().unwrap_or_default();
    let text = text.trim_start_matches("the ").replace(['-', '’'], " ").replace("capitalis", "capitaliz");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    text.strip_suffix('s').filter(|_| text.ends_with("marks")).map_or(text.clone(), str::to_owned)
}

/// An answer in the register's words, where an everyday phrase stands for them.
pub fn in_the_books_words(plain: &str) -> String {
    let mut words = format!(" {plain} ");
    for (said, meant) in &names().phrases {
        words = words.replacen(&format!(" {said} "), &format!(" {meant} "), 1);
    }
    words.trim().to_owned()
}

/// Whether this is one of a sign's everyday names; `typed` as it was typed.
pub fn is_name(key: &str, typed: &str) -> bool {
    let answer = plain(typed);
    let said = |name: &&&str| **name == typed.trim() || (!answer.is_empty() && plain(name) == answer);
    names().of.get(key).is_some_and(|list| list.iter().find(said).is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ueb::register;

    #[test]
    fn every_name_is_of_a_sign_that_there_is() {
        for key in names().of.keys() {
            assert!(register::by_key(key).is_some(), "{key}");
        }
        assert!(names().phrases.len() > 20);
    }
}
