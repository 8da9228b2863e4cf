//! The house holds: no file uses anything above it, no files use each other in a circle, no function of the engine or the
//! page is longer than a reader takes in at once, and no file longer than its subject needs. Read from the sources.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// The floors of the house from its top, as `src/lib.rs` lists them. Each may use those after it.
const HOUSE: [&str; 10] =
    ["page", "exercise", "practice", "manuscript", "marking", "writing", "keys", "ueb", "cell", "order"];
/// The floors of the page from its top, as `src/page/mod.rs` lists them.
const PAGE: [&str; 10] =
    ["shell", "rooms", "drills", "marked", "surface", "widgets", "learner", "browser", "route", "states"];

/// A file by the path of its module, `page::rooms::write`.
type Module = String;

/// The files of the library and what each names of the others.
fn house() -> BTreeMap<Module, BTreeSet<Module>> {
    let mut texts = BTreeMap::new();
    gather(Path::new("src"), "", &mut texts);
    let modules: BTreeSet<Module> = texts.keys().cloned().collect();
    let uses = texts.iter().map(|(module, text)| {
        let mut named: BTreeSet<Module> =
            paths_in(text, module, &modules).iter().filter_map(|path| file_of(path, &modules)).collect();
        named.remove(module);
        (module.clone(), named)
    });
    uses.collect()
}

/// Reads the files of a folder; `native`, `module` and the build script are packages or programs of their own.
fn gather(folder: &Path, within: &str, texts: &mut BTreeMap<Module, String>) {
    for entry in fs::read_dir(folder).expect("the sources") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().and_then(|name| name.to_str()).expect("a name").to_owned();
        let joined =
            |name: &str| if within.is_empty() { name.to_owned() } else { format!("{within}::{name}") };
        if path.is_dir() {
            if !["native", "module"].contains(&name.as_str()) {
                gather(&path, &joined(&name), texts);
            }
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            let program = within.is_empty()
                && ["main", "lib", "build", "build_font", "build_data"].contains(&name.as_str());
            if !program {
                let module = if name == "mod" { within.to_owned() } else { joined(&name) };
                texts.insert(module, code_of(&fs::read_to_string(&path).expect("a file")));
            }
        }
    }
}

/// A file without its comments and its tests.
fn code_of(text: &str) -> String {
    let text = text.split("\n#[cfg(test)]\nmod ").next().unwrap_or_default();
    text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

/// All paths in a file that begin in the crate, above the file, or in a module that it declares.
fn paths_in(text: &str, module: &str, modules: &BTreeSet<Module>) -> Vec<Module> {
    let parent = |path: &str| path.rsplit_once("::").map_or(String::new(), |(parent, _)| parent.to_owned());
    let mut found = Vec::new();
    let mut before = ' ';
    let mut at = 0;
    while let Some(rest) = text.get(at..) {
        let Some(first) = rest.chars().next() else { break };
        let word: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        let begins = !word.is_empty() && before != ':';
        before = first;
        if !begins {
            at += word.len().max(first.len_utf8());
            continue;
        }
        at += word.len();
        let Some(mut tail) = text[at..].strip_prefix("::") else { continue };
        let mut from = match word.as_str() {
            "crate" | "cellwright" => String::new(),
            "self" => module.to_owned(),
            "super" => parent(module),
            child => {
                let child = format!("{module}::{child}");
                if !modules.contains(&child) {
                    continue;
                }
                child
            }
        };
        while let Some(higher) = tail.strip_prefix("super::") {
            (from, tail) = (parent(&from), higher);
        }
        at = text.len() - spread(&from, tail, &mut found).len();
        before = ' ';
    }
    found
}

/// Follows a path, and every branch of a group in braces; gives what follows it.
fn spread<'a>(from: &str, tail: &'a str, found: &mut Vec<Module>) -> &'a str {
    let joined = |name: &str| if from.is_empty() { name.to_owned() } else { format!("{from}::{name}") };
    let tail = tail.trim_start();
    if let Some(mut group) = tail.strip_prefix('{') {
        loop {
            group = spread(from, group, found).trim_start();
            match group.strip_prefix(',') {
                Some(next) => group = next,
                None => return group.strip_prefix('}').unwrap_or(group),
            }
        }
    }
    let name: String = tail.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    let after = &tail[name.len()..];
    let path = if name.is_empty() || name == "self" { from.to_owned() } else { joined(&name) };
    if let Some(next) = after.strip_prefix("::") {
        return spread(&path, next, found);
    }
    found.push(path);
    after.trim_start().strip_prefix("as ").map_or(after, |after| {
        after.trim_start().trim_start_matches(|c: char| c.is_alphanumeric() || c == '_')
    })
}

/// The file that holds what a path names.
fn file_of(path: &str, modules: &BTreeSet<Module>) -> Option<Module> {
    let mut path = path;
    loop {
        if modules.contains(path) {
            return Some(path.to_owned());
        }
        path = path.rsplit_once("::")?.0;
    }
}

/// Where a module stands among floors; the smaller, the higher.
fn floor(module: &str, floors: &[&str]) -> Option<usize> {
    let name = module.split("::").next()?;
    floors.iter().position(|floor| *floor == name)
}

#[test]
fn no_file_uses_a_floor_above_its_own() {
    let house = house();
    assert!(house.len() > 150, "only {} files were read", house.len());
    let mut up = Vec::new();
    for (module, named) in &house {
        let here = floor(module, &HOUSE).unwrap_or_else(|| panic!("{module} is on no floor of src/lib.rs"));
        for other in named {
            let there = floor(other, &HOUSE).expect("a floor");
            let within_page = module.strip_prefix("page::").zip(other.strip_prefix("page::"));
            let climbs = there < here
                || within_page.is_some_and(|(one, other)| {
                    floor(other, &PAGE).expect("a floor of the page")
                        < floor(one, &PAGE).expect("a floor of the page")
                });
            if climbs || (module.starts_with("page::") && other == "page") {
                up.push(format!("{module} uses {other}"));
            }
        }
    }
    assert!(up.is_empty(), "upwards:\n{}", up.join("\n"));
}

/// What a module names, and what those name, and so on.
fn reached(from: &str, uses: &BTreeMap<Module, BTreeSet<Module>>) -> BTreeSet<Module> {
    let mut seen = BTreeSet::new();
    let mut todo = vec![from.to_owned()];
    while let Some(module) = todo.pop() {
        for next in uses.get(&module).into_iter().flatten() {
            if seen.insert(next.clone()) {
                todo.push(next.clone());
            }
        }
    }
    seen
}

/// The circles among modules, each with all that are tied in it.
fn circles(uses: &BTreeMap<Module, BTreeSet<Module>>) -> BTreeSet<BTreeSet<Module>> {
    let reach: BTreeMap<&Module, BTreeSet<Module>> =
        uses.keys().map(|module| (module, reached(module, uses))).collect();
    let leads = |from: &Module, to: &Module| reach.get(from).is_some_and(|reached| reached.contains(to));
    let ring = |module: &Module| {
        reach[module].iter().filter(|other| leads(other, module)).cloned().collect::<BTreeSet<Module>>()
    };
    uses.keys().filter(|module| leads(module, module)).map(ring).collect()
}

/// What stands in each folder (files, and folders with all that is in them) and what each uses of the
/// others. A folder and what stands in it are not set against each other: `mod.rs` is its face.
fn siblings(house: &BTreeMap<Module, BTreeSet<Module>>) -> BTreeMap<Module, BTreeSet<Module>> {
    let mut units: BTreeMap<Module, BTreeSet<Module>> = BTreeMap::new();
    for (module, named) in house {
        for other in named {
            let (mut one, mut two) = (module.split("::"), other.split("::"));
            let mut common = String::new();
            while let (Some(here), Some(there)) = (one.next(), two.next()) {
                let within = |name: &str| {
                    if common.is_empty() { name.to_owned() } else { format!("{common}::{name}") }
                };
                if here != there {
                    units.entry(within(here)).or_default().insert(within(there));
                    break;
                }
                common = within(here);
            }
        }
    }
    units
}

/// Circles older than this test, which are being untied: the files, or the folder (`ueb::back::`) that they all stand in.
/// A line goes when its circle is gone; none is added.
const STILL_TIED: [&str; 2] =
    ["practice::passages practice::reading practice::ready practice::supply", "ueb::back::"];

#[test]
fn nothing_in_a_folder_uses_each_other_in_a_circle() {
    let mut circles = circles(&siblings(&house()));
    circles.retain(|ring| {
        !STILL_TIED.iter().any(|tied| {
            ring.iter().all(|module| {
                tied.split(' ').any(|one| one == module || one.ends_with("::") && module.starts_with(one))
            })
        })
    });
    let told: Vec<String> =
        circles.iter().map(|ring| ring.iter().cloned().collect::<Vec<_>>().join(", ")).collect();
    assert!(told.is_empty(), "circles:\n{}", told.join("\n"));
}

#[test]
fn the_reader_of_paths_reads_them_all() {
    let modules: BTreeSet<Module> =
        ["a", "a::b", "a::b::c", "d"].iter().map(|name| (*name).to_owned()).collect();
    let text =
        "use crate::a::{self, b::{c::X as Y, Z}};\nfn f() { super::g(); c::h(); crate::d::k() }\nx::c::no();";
    let found = paths_in(text, "a::b", &modules);
    assert_eq!(found, ["a", "a::b::c::X", "a::b::Z", "a::g", "a::b::c::h", "d::k"]);
    assert_eq!(file_of("a::b::c::X", &modules).as_deref(), Some("a::b::c"));
    let ring = BTreeMap::from([
        ("a".to_owned(), BTreeSet::from(["d".to_owned()])),
        ("d".to_owned(), BTreeSet::from(["a".to_owned()])),
    ]);
    assert_eq!(circles(&ring).len(), 1);
}

/// Where functions are short (the rules of braille, the marking, the page with its components): the folder, and the lines
/// that a function there has at most, with its head and its end, its tests too. None is excepted.
const SHORT: [(&str, usize); 3] = [("src/ueb", 80), ("src/marking", 80), ("src/page", 150)];

/// The lines that a file has at most, with its tests.
const FILE: usize = 520;
/// Files that may be longer, each with its reason. A line goes when its file is short enough.
const LONG_FILES: [(&str, &str); 1] = [(
    "src/ueb/contract/rules.rs",
    "one rule of section 10 after the other, each with the words that decide it",
)];

/// The files of a folder and of all folders in it, with what stands in them.
fn files_in(folder: &str) -> Vec<(String, String)> {
    let mut files = Vec::new();
    let mut folders = vec![std::path::PathBuf::from(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|kind| kind == "rs") {
                files.push((path.display().to_string(), fs::read_to_string(&path).expect("a file")));
            }
        }
    }
    files
}

/// The name and the length of each function in a formatted file.
fn functions(text: &str) -> Vec<(String, usize)> {
    let lines: Vec<&str> = text.lines().collect();
    let mut found = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let indent = line.len() - line.trim_start().len();
        let head: Vec<&str> = line.trim_start().split("fn ").collect();
        let [before, name, ..] = head[..] else { continue };
        let modifiers = ["pub", "pub(crate)", "pub(super)", "const", "async"];
        if !before.split_whitespace().all(|word| modifiers.contains(&word)) {
            continue;
        }
        let name: String = name.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        let end = format!("{}}}", " ".repeat(indent));
        let one = line.ends_with('}') || line.ends_with(';');
        let length = if one { 0 } else { lines[at..].iter().position(|line| *line == end).unwrap_or(0) };
        found.push((name, length + 1));
    }
    found
}

#[test]
fn no_function_is_longer_than_a_reader_takes_in_at_once() {
    let mut long = Vec::new();
    let mut seen = 0;
    for (folder, most) in SHORT {
        for (path, text) in files_in(folder) {
            let functions = functions(&text);
            seen += functions.len();
            let over = functions.into_iter().filter(|(_, length)| *length > most);
            long.extend(over.map(|(name, length)| format!("{path}: {name}, {length}")));
        }
    }
    assert!(seen > 1600, "only {seen} functions were read");
    assert!(long.is_empty(), "too long:\n{}", long.join("\n"));
}

#[test]
fn no_file_is_longer_than_its_subject_needs() {
    let files = files_in("src");
    assert!(files.len() > 250, "only {} files were read", files.len());
    let lines = |text: &str| text.lines().count();
    let excepted = |path: &str| LONG_FILES.iter().any(|(long, _)| *long == path);
    let long: Vec<String> = files
        .iter()
        .filter(|(path, text)| lines(text) > FILE && !excepted(path))
        .map(|(path, text)| format!("{path}: {}", lines(text)))
        .collect();
    assert!(long.is_empty(), "too long:\n{}", long.join("\n"));
    for (path, _) in LONG_FILES {
        let still = files.iter().any(|(one, text)| one == path && lines(text) > FILE);
        assert!(still, "{path} needs no exception any more");
    }
}

#[test]
fn functions_are_measured_from_head_to_end() {
    let text =
        "impl X {\n    pub(crate) fn a(\n        b: u8,\n    ) -> u8 {\n        b\n    }\n}\nfn c() {}\n";
    assert_eq!(functions(text), [("a".to_owned(), 5), ("c".to_owned(), 1)]);
}
