//! What this browser keeps under which key, what becomes of it when a file is opened, and what it is called.

/// How what is kept under a key goes home and is merged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// The record's journals: all answers of both.
    Record,
    /// A teacher's own exercises: all of both.
    Exercises,
    /// The class sheet: all slips of both.
    Class,
    /// Texts of the learner's own: all of both.
    Texts,
    /// How far texts were read: text by text.
    Places,
    /// One piece: the later of the two, and where both were changed, both.
    Whole,
    /// What was set aside: it is put aside there too.
    Aside,
    /// It belongs to this browser, this screen or this keyboard, and stays.
    Stays,
}

/// What stands in a key before the number of what was set aside from it.
const ASIDE: &str = ".aside";
/// Under which it stands what each piece was.
pub const KNOWN: &str = "home";

/// What becomes of a key, without what all keys of the page begin with; `None` for one that this page does not know.
pub fn way(key: &str) -> Option<Way> {
    if key.len() > 200 || key.chars().any(char::is_control) {
        return None;
    }
    if let Some(base) = aside_of(key) {
        return way(base).filter(|way| *way != Way::Stays).map(|_| Way::Aside);
    }
    Some(match key {
        "exercises" => Way::Exercises,
        "class" => Way::Class,
        "shelf" => Way::Texts,
        "books" | "bookmarks" => Way::Places,
        "settings" | "unit" | "goal" | "write" | "reading" | "set" | "set.many" | "desk"
        | "proofread.own" | "slips" | "course.rules" | "trial.manuscript" | "session" | "session.draft" => {
            Way::Whole
        }
        "site" | "card" | "keyboard-check" | "told-of-keys" | "try" | KNOWN => Way::Stays,
        _ if key.starts_with("work.") => Way::Whole,
        _ if key.starts_with("journal.") => Way::Record,
        _ if key.starts_with("open.") || key.starts_with("given.") => Way::Stays,
        _ => return None,
    })
}

/// The key from which something was set aside.
pub fn aside_of(key: &str) -> Option<&str> {
    key.split_once(ASIDE).map(|(base, _)| base)
}

/// What a piece is called on the page.
pub fn called(key: &str) -> &'static str {
    const WORK: [(&str, &str); 15] = [
        ("work.set.write.", "A text written from its prompt, in Write"),
        ("work.set.slate.", "A text punched from its prompt, in Write"),
        ("work.write.", "What is written in Write"),
        ("work.slate.", "What is punched in Write"),
        ("work.transcribe", "A transcription"),
        ("work.proofread.own", "Your own sheet to proofread"),
        ("work.proofread.", "A sheet to proofread"),
        ("work.round.", "An exercise, item by item"),
        ("work.several.", "The place in a set of exercises"),
        ("work.tries.", "The tries of an exercise"),
        ("work.slips.pasted", "Links of slips that are not on the class sheet yet"),
        ("work.exercise.pasted", "A link of an exercise that is not on the shelf yet"),
        ("work.pasted", "A pasted text that is not on the shelf yet"),
        ("work.trial.pasted", "A text of your own for a trial hand-in"),
        ("work.", "Work on a text"),
    ];
    match key {
        "settings" => "The settings",
        "unit" => "The unit to begin at",
        "goal" => "The goal",
        "write" => "The prompt in Write",
        "reading" => "How a sheet is shown in Read",
        "set" => "The exercise being made in Set work",
        "set.many" => "The set being made in Set work",
        "desk" => "The reading desk in Proofread",
        "proofread.own" => "The text to proofread of your own",
        "slips" => "Slips that a grader has marked",
        "course.rules" => "The rules of your course",
        "trial.manuscript" => "The trial manuscript",
        "session" | "session.draft" => "The session that was left open",
        "books" => "How far texts were read",
        "bookmarks" => "The places at which texts are open",
        "shelf" => "Your own texts",
        "class" => "The class sheet",
        "exercises" => "Your own exercises",
        _ => WORK
            .iter()
            .find(|(begins, _)| key.starts_with(begins))
            .map_or("A piece of work", |(_, name)| name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places that give the store a key by another name than that of a constant: file, and what is given. Those of `work::name_of`
    /// begin with "work.", and its names are read below; the rest go over keys that are there.
    const BY_NAME: &[(&str, &str)] = &[
        ("browser/piece.rs", "format!(\"cellwright.{kind}{piece}\")"),
        ("browser/piece.rs", "key"),
        ("browser/piece.rs", "whole(OPEN, piece)"),
        ("browser/store.rs", "place(&beside)"),
        ("browser/store.rs", "place(key)"),
        ("learner/journal.rs", "format!(\"{PREFIX}file{}\", tab_name())"),
        ("learner/journal.rs", "key"),
        ("learner/journal.rs", "old"),
        ("learner/left.rs", "key"),
        ("marked/hand_in.rs", "key"),
        ("marked/progress.rs", "format!(\"{name}.time\")"),
        ("marked/progress.rs", "name_of(set)"),
        ("marked/progress.rs", "self.name"),
        ("rooms/exercise/round.rs", "name"),
        ("rooms/exercise/several.rs", "name"),
        ("rooms/proofread/work_state.rs", "name"),
        ("rooms/record/home.rs", "key"),
        ("rooms/record/home.rs", "whole_key(key)"),
        ("rooms/transcribe/desk_state.rs", "format!(\"{name}.desk\")"),
        ("surface/work.rs", "name"),
        ("widgets/take_home.rs", "whole"),
    ];

    /// Functions of the store that take a key.
    const TAKING: [&str; 14] = [
        "load",
        "load_any",
        "save",
        "save_any",
        "forget",
        "forget_text",
        "text",
        "keep_text",
        "keep_text_or_not",
        "read_in_part",
        "set_aside",
        "put_aside",
        "place",
        "set_item",
    ];

    /// The sources of the page without their tests, by their paths below `src/page`.
    fn sources() -> Vec<(String, String)> {
        let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/page");
        let mut sources = Vec::new();
        let mut folders = vec![root.clone()];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                    continue;
                }
                let text = std::fs::read_to_string(&path).unwrap();
                let text = text.split("#[cfg(test)]").next().unwrap_or_default();
                let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
                let name = path.strip_prefix(&root).unwrap().display().to_string();
                sources.push((name, code.collect::<Vec<_>>().join("\n")));
            }
        }
        sources.sort();
        sources
    }

    /// The text between quotation marks at the beginning.
    fn literal(code: &str) -> Option<&str> {
        code.strip_prefix('"')?.split('"').next()
    }

    /// What is given first to each call of the store.
    fn given(code: &str) -> Vec<&str> {
        let mut all = Vec::new();
        for way in TAKING {
            let calls = if way == "set_item" { ".set_item".to_owned() } else { format!("store::{way}") };
            for (at, _) in code.match_indices(&calls) {
                let mut rest = &code[at + calls.len()..];
                if let Some(types) = rest.strip_prefix("::<") {
                    let mut open = 1;
                    let end = types.find(|c| {
                        open += i32::from(c == '<') - i32::from(c == '>');
                        open == 0
                    });
                    rest = &types[end.unwrap_or(0) + 1..];
                }
                let Some(rest) = rest.strip_prefix('(') else { continue };
                let mut open = 0;
                let end = rest.find(|c| {
                    open += i32::from(c == '(') - i32::from(c == ')');
                    open < 0 || open == 0 && c == ','
                });
                all.push(rest[..end.unwrap_or(rest.len())].trim().trim_start_matches('&'));
            }
        }
        all
    }

    /// Every key that the page's own sources name is known here: what is added there is taken home too, or stays by decision.
    /// Whatever the constant is called: each call of the store is followed to its key, or is listed above.
    #[test]
    fn every_key_of_the_page_is_known() {
        let sources = sources();
        let mut keys: Vec<String> = Vec::new();
        let mut by_name = Vec::new();
        for (file, code) in &sources {
            let constant = |name: &str| {
                let own = format!("const {name}: &str = ");
                let mut places = std::iter::once(code).chain(sources.iter().map(|(_, code)| code));
                places.find_map(|code| literal(&code[code.find(&own)? + own.len()..]))
            };
            for given in given(code) {
                let capitals = given.chars().all(|c| c.is_ascii_uppercase() || c == '_');
                if let Some(key) = literal(given).or_else(|| capitals.then(|| constant(given)).flatten()) {
                    keys.push(key.to_owned());
                } else {
                    by_name.push((file.as_str(), given));
                }
            }
            // What is a key by its looks, wherever it stands, with what is put into it.
            for key in
                code.split('"').filter(|text| text.starts_with("cellwright.") || text.starts_with("work."))
            {
                if !key.contains(' ') && !key.starts_with("cellwright.{") {
                    keys.push(key.replace(['{', '}'], ""));
                }
            }
            for (at, call) in
                code.match_indices("work::name_of(").chain(code.match_indices("work_kept::name_of("))
            {
                let rest = &code[at + call.len()..];
                let first = &rest[..rest.find(',').unwrap_or(rest.len())];
                keys.extend(first.split('"').skip(1).step_by(2).map(|task| format!("work.{task}.0")));
            }
        }
        by_name.sort_unstable();
        by_name.dedup();
        assert_eq!(by_name, BY_NAME, "each call of the store names a constant, or is listed");
        assert!(keys.len() >= 100, "{}: {keys:?}", keys.len());
        for key in &keys {
            let key = key.trim_start_matches("cellwright.");
            // What all begin with; what is no piece of one person's (`cellwright-person`).
            let none = key.is_empty() || key.starts_with("cellwright-");
            assert!(none || way(key).is_some(), "{key} is not known: {keys:?}");
        }
    }

    #[test]
    fn what_was_set_aside_goes_home_and_what_is_the_browsers_stays() {
        assert_eq!(way("work.write.00.1.aside2"), Some(Way::Aside));
        assert_eq!(way("journal.a1.aside"), Some(Way::Aside));
        assert_eq!(way("site.aside"), None);
        assert_eq!(way("open.write"), Some(Way::Stays));
        assert_eq!(way("colour"), None);
        assert_eq!(way(&"work.".repeat(50)), None);
        assert_eq!(way("work.\u{7}"), None);
    }
}
