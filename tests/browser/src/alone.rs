//! By the keyboard and the accessibility tree alone: nothing is pointed at, nothing is looked up in the document. What
//! stands in the room, what has the focus and what came of it is told by the tree that the browser gives to screen readers.

use cellwright::cell::{self, Cell};
use cellwright::exercise::{Exercise, Task, in_link};
use cellwright::ueb::{self, Options, ReadOptions};
use serde_json::{Value, json};
use std::time::{Duration, Instant};

use crate::browser::{END, ENTER, Failed, Outcome, Session, TAB, ensure};

const DOWN: char = '\u{e015}';
const RIGHT: char = '\u{e014}';
const BACKSPACE: char = '\u{e003}';
/// The role of what unfolds, as Chromium's tree tells it.
const UNFOLDS: &str = "DisclosureTriangle";
/// So long something may take to come.
const PATIENCE: Duration = Duration::from_secs(20);

/// What a screen reader meets: a node of the tree.
#[derive(Debug)]
struct Node {
    role: String,
    name: String,
    value: String,
    focused: bool,
}

/// The whole tree, in reading order.
async fn tree(session: &Session) -> Outcome<Vec<Node>> {
    let answer = session.devtools("Accessibility.getFullAXTree", json!({})).await?;
    let nodes = answer["nodes"].as_array().cloned().unwrap_or_default();
    let text = |at: &Value| at["value"].as_str().unwrap_or_default().to_owned();
    Ok(nodes
        .iter()
        .filter(|node| node["ignored"] != true)
        .map(|node| Node {
            role: text(&node["role"]),
            name: text(&node["name"]),
            value: text(&node["value"]),
            focused: node["properties"].as_array().is_some_and(|all| {
                all.iter().any(|one| one["name"] == "focused" && one["value"]["value"] == true)
            }),
        })
        .collect())
}

/// Waits until a node is as asked, and gives it.
async fn wait(session: &Session, what: &str, is: impl Fn(&Node) -> bool) -> Outcome<Node> {
    let begun = Instant::now();
    loop {
        let nodes = tree(session).await?;
        if let Some(node) = nodes.into_iter().find(&is) {
            return Ok(node);
        }
        ensure(begun.elapsed() < PATIENCE, || format!("the tree does not tell of {what}"))?;
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
}

/// Waits until these words stand somewhere in the tree.
async fn hear(session: &Session, words: &str) -> Outcome {
    wait(session, words, |node| node.name.contains(words) || node.value.contains(words)).await.map(drop)
}

/// Presses Tab until what has the focus has this role and name.
async fn tab_to(session: &Session, role: &str, name: &str) -> Outcome {
    wait(session, &format!("a {role} \"{name}\""), |node| node.role == role && node.name == name).await?;
    let mut met = Vec::new();
    for _ in 0..120 {
        let here = tree(session).await?.into_iter().rfind(|node| node.focused);
        if let Some(here) = here {
            if here.role == role && here.name == name {
                return Ok(());
            }
            met.push(format!("{} \"{}\"", here.role, here.name));
        }
        session.press(TAB).await?;
    }
    Err(Failed(format!("Tab does not reach the {role} \"{name}\", but {met:?}")))
}

async fn enter(session: &Session, role: &str, name: &str) -> Outcome {
    tab_to(session, role, name).await?;
    session.press(ENTER).await
}

async fn type_text(session: &Session, text: &str) -> Outcome {
    for value in text.chars() {
        session.press(if value == '\n' { ENTER } else { value }).await?;
    }
    Ok(())
}

/// Chooses in the list that has the focus, by its arrow keys.
async fn choose(session: &Session, list: &str, option: &str) -> Outcome {
    tab_to(session, "combobox", list).await?;
    for _ in 0..40 {
        let chosen =
            tree(session).await?.into_iter().find(|node| node.role == "combobox" && node.name == list);
        if chosen.is_some_and(|node| node.value == option) {
            return Ok(());
        }
        session.press(DOWN).await?;
    }
    Err(Failed(format!("the list \"{list}\" has no \"{option}\"")))
}

/// The page as it opens, with the focus at its top.
async fn begin(session: &Session) -> Outcome {
    session.client.goto(&session.site).await?;
    wait(session, "the first room", |node| {
        node.role == "heading" && node.name == "Read and write braille by eye, and get it right"
    })
    .await
    .map(drop)
}

/// The cells that the tree tells right after these words.
async fn cells_after(session: &Session, words: &str) -> Outcome<Vec<Cell>> {
    let nodes = tree(session).await?;
    let from = nodes.iter().position(|node| node.name == words).unwrap_or(nodes.len());
    // The braille is told first, with words behind it.
    let braille = |name: &str| {
        let cells = name.split(' ').next().unwrap_or_default();
        cells.chars().map(Cell::from_unicode).collect::<Option<Vec<Cell>>>().filter(|cells| !cells.is_empty())
    };
    nodes[from..]
        .iter()
        .filter(|node| !node.name.is_empty())
        .find_map(|node| braille(&node.name))
        .ok_or_else(|| Failed(format!("the tree tells no cells after \"{words}\"")))
}

pub async fn a_drill(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Practise one thing").await?;
    choose(&session, "Drill", "A cell: what does it mean?").await?;
    // A wrong answer first: what it was is told, and the next is asked.
    tab_to(&session, "textbox", "It means").await?;
    type_text(&session, "zz").await?;
    session.press(ENTER).await?;
    hear(&session, "0 right at first sight of 1").await?;
    // Then a clue, and right answers.
    for n in 1..=5 {
        if n == 3 {
            enter(&session, "button", "A clue").await?;
            hear(&session, "row").await?;
            back_to(&session, "textbox", "It means").await?;
        }
        tab_to(&session, "textbox", "It means").await?;
        let asked = cells_after(&session, "What does it mean?").await?;
        let means = ueb::read_print(&asked, &ReadOptions { contracted: false, ..ReadOptions::default() });
        type_text(&session, &means).await?;
        session.press(ENTER).await?;
        hear(&session, &format!("of {}", n + 1)).await?;
    }
    // What was learned is told in the Record room.
    back_to(&session, "link", "Record").await?;
    session.press(ENTER).await?;
    wait(&session, "the Record room", |node| node.role == "heading" && node.name == "Record").await?;
    hear(&session, "6 answers").await
}

/// Presses Shift and Tab until what has the focus has this role and name.
async fn back_to(session: &Session, role: &str, name: &str) -> Outcome {
    for _ in 0..120 {
        let here = tree(session).await?.into_iter().rfind(|node| node.focused);
        if here.is_some_and(|here| here.role == role && here.name == name) {
            return Ok(());
        }
        session.back_tab().await?;
    }
    Err(Failed(format!("Shift and Tab do not reach the {role} \"{name}\"")))
}

pub async fn a_transcription_is_marked_and_mended(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Transcribe").await?;
    wait(&session, "the room", |node| node.role == "heading" && node.name == "Transcribe").await?;
    // The copy is set by the keyboard too.
    tab_to(&session, "textbox", "Braille").await?;
    enter(&session, UNFOLDS, "The copy").await?;
    tab_to(&session, "textbox", "The print to copy").await?;
    session.with_control("a").await?;
    type_text(&session, "The ferry leaves.").await?;
    back_to(&session, "textbox", "Braille").await?;
    // A paragraph begins in cell 3; the last e of "leaves" is reversed.
    let right = ueb::transcribe("  The ferry leaves.", &Options::default());
    let e = cell::from_ascii("e").expect("a cell")[0];
    let at = right.iter().rposition(|cell| *cell == e).ok_or_else(|| Failed("no e".into()))?;
    let mut wrong = right.clone();
    wrong[at] = e.mirror();
    session.type_cells(&wrong).await?;
    enter(&session, "button", "Mark my work").await?;
    let of_first = |node: &Node| node.role == "button" && node.name.starts_with("Why, finding 1: mirrored");
    let why = wait(&session, "the finding", of_first).await?;
    enter(&session, "button", &why.name).await?;
    hear(&session, "section").await?;
    // Mended where it was written: the caret is taken back from the end.
    back_to(&session, "textbox", "Braille").await?;
    session.with_control(&END.to_string()).await?;
    for _ in at..right.len() {
        session.press(BACKSPACE).await?;
    }
    session.type_cells(&right[at..]).await?;
    session.press(RIGHT).await?;
    enter(&session, "button", "Mark my work").await?;
    hear(&session, "words are right.").await
}

pub async fn an_exercise_is_set_and_opened(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Set work").await?;
    tab_to(&session, "textbox", "Title").await?;
    type_text(&session, "Notice 2").await?;
    choose(&session, "What to do", Task::Write.words()).await?;
    tab_to(&session, "textbox", "Text, one item a line").await?;
    type_text(&session, "The galley is open.\nNo dogs.").await?;
    let link = wait(&session, "the link", |node| node.role == "textbox" && node.name == "Link").await?.value;
    let (_, payload) = in_link(&link).ok_or_else(|| Failed(format!("no link: {link}")))?;
    let set = Exercise::from_payload(payload)?;
    ensure(
        set.title == "Notice 2" && set.task == Task::Write && set.text == "The galley is open.\nNo dogs.",
        || format!("the link holds {set:?}"),
    )?;
    enter(&session, "button", "See it as the learner will").await?;
    enter(&session, "link", "Open it on a page of its own").await?;
    wait(&session, "the exercise", |node| node.role == "heading" && node.name == "Notice 2").await?;
    tab_to(&session, "textbox", "Braille").await?;
    session.type_cells(&ueb::transcribe("The galley is open.", &Options::default())).await?;
    hear(&session, "The galley is open.").await?;
    enter(&session, "button", "Mark my work").await?;
    hear(&session, "right").await
}

/// Mistakes are found on a sheet that is read as text, by its lines and by what is said of each cell.
pub async fn a_sheet_is_proofread(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Proofread").await?;
    let sheet =
        wait(&session, "the sheet", |node| node.role == "textbox" && node.name == "Braille to proofread")
            .await?;
    let lines: Vec<Vec<Cell>> =
        sheet.value.split('\n').map(|line| line.chars().filter_map(Cell::from_unicode).collect()).collect();
    ensure(lines.len() > 3 && lines.iter().any(|line| line.len() > 20), || {
        format!("the tree tells {lines:?}")
    })?;
    tab_to(&session, "textbox", "Braille to proofread").await?;
    let (line, cell) = (2, 3.min(lines[2].len() - 1));
    for _ in 0..line {
        session.press(DOWN).await?;
    }
    for _ in 0..cell {
        session.press(RIGHT).await?;
    }
    let numbers = lines[line][cell].dot_numbers().replace('-', " ");
    hear(&session, &format!("{numbers}, line {}, cell {}", line + 1, cell + 1)).await?;
    tab_to(&session, "combobox", "Kind of mistake").await?;
    back_to(&session, "textbox", "Braille to proofread").await?;
    session.press(ENTER).await?;
    hear(&session, "1 cell marked.").await?;
    hear(&session, &format!("{numbers}, mark 1, line {}, cell {}", line + 1, cell + 1)).await?;
    enter(&session, "button", "I am done").await?;
    hear(&session, "Found ").await
}

/// The cells of a table, row by row, as the tree tells them.
async fn rows(session: &Session) -> Outcome<Vec<String>> {
    let nodes = tree(session).await?;
    let cells =
        nodes.into_iter().filter(|node| ["rowheader", "cell", "gridcell"].contains(&node.role.as_str()));
    Ok(cells.map(|node| node.name).collect())
}

pub async fn a_class_sheet_is_filled_and_read(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Set work").await?;
    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met". The score of the second is made up.
    let links = [
        crate::class::slip("Ida", "2026-11-09", "! \"m met", 3)?,
        crate::class::slip("Tam", "2026-11-02", "! mother mit", 3)?,
    ];
    tab_to(&session, "textbox", "Links of result slips").await?;
    type_text(&session, &links.join(" ")).await?;
    enter(&session, "button", "Add the slips").await?;
    hear(&session, "2 slips added.").await?;
    // What the table tells, and that it is sorted.
    let heard = |rows: &[String], who: &str| rows.iter().position(|cell| cell == who).unwrap_or(usize::MAX);
    let before = rows(&session).await?;
    ensure(heard(&before, "Ida") < heard(&before, "Tam"), || format!("the table tells {before:?}"))?;
    for says in ["Notice 2", "3 of 3", "1 of 3", "1 min 30 s", "The slip says otherwise."] {
        ensure(before.iter().any(|cell| cell.contains(says)), || format!("no {says:?} in {before:?}"))?;
    }
    enter(&session, "button", "First try").await?;
    wait(&session, "the order", |node| node.role == "columnheader" && node.name.starts_with("First try"))
        .await?;
    let sorted = rows(&session).await?;
    ensure(heard(&sorted, "Tam") < heard(&sorted, "Ida"), || format!("sorted, the table tells {sorted:?}"))?;
    // A slip is opened out, given another name, and read.
    enter(&session, UNFOLDS, "1 slip of Tam").await?;
    hear(&session, "Marked on this computer it is 1 of 3 words right: the slip says otherwise.").await?;
    tab_to(&session, "textbox", "Name for the slip of 2026-11-02").await?;
    session.with_control("a").await?;
    type_text(&session, "Tam of Orrin").await?;
    session.press(ENTER).await?;
    hear(&session, "1 slip of Tam of Orrin").await?;
    // An exercise on what costs most stands above, and is told.
    tab_to(&session, "button", "An exercise on what costs most").await?;
    session.press(ENTER).await?;
    hear(&session, "The exercise stands above").await?;
    back_to(&session, "textbox", "Title").await?;
    wait(&session, "its title", |node| node.name == "Title" && node.value == "What cost us most").await?;
    // The slip itself.
    tab_to(&session, "link", "1 of 3").await?;
    session.press(ENTER).await?;
    wait(&session, "the slip", |node| node.role == "heading" && node.name == "Notice 2").await?;
    hear(&session, "Marked on this computer it is 1 of 3 words right: the slip says otherwise.").await
}

pub async fn a_set_is_made_and_opened(session: Session) -> Outcome {
    begin(&session).await?;
    enter(&session, "link", "Set work").await?;
    for (title, text) in [("Notice 2", "The ferry leaves."), ("Notice 3", "No dogs.")] {
        wait(&session, "the room", |node| node.role == "heading" && node.name == "Set work").await?;
        if title != "Notice 2" {
            back_to(&session, "textbox", "Title").await?;
        }
        tab_to(&session, "textbox", "Title").await?;
        session.with_control("a").await?;
        type_text(&session, title).await?;
        tab_to(&session, "textbox", "Text, one item a line").await?;
        session.with_control("a").await?;
        type_text(&session, text).await?;
        enter(&session, "button", "Put this exercise on your shelf").await?;
        hear(&session, "It is on your shelf.").await?;
    }
    enter(&session, "button", "Add Notice 2 to the set").await?;
    enter(&session, "button", "Add Notice 3 to the set").await?;
    tab_to(&session, "textbox", "Title of the set").await?;
    type_text(&session, "Week 3").await?;
    enter(&session, "button", "Move number 2 up").await?;
    tab_to(&session, "checkbox", "To be done in this order").await?;
    session.press(' ').await?;
    let named = |node: &Node| node.role == "textbox" && node.name == "Link of the set";
    let in_order = |node: &Node| -> bool {
        let set = in_link(&node.value)
            .and_then(|(_, payload)| cellwright::exercise::Work::from_payload(payload).ok());
        matches!(set, Some(cellwright::exercise::Work::Many(set)) if set.in_order && set.title == "Week 3"
            && set.exercises.iter().map(|one| one.title.as_str()).eq(["Notice 3", "Notice 2"]))
    };
    let link = wait(&session, "the link of the set", |node| named(node) && in_order(node)).await?.value;
    // As its learner meets it.
    let at = link.find('#').unwrap_or_default();
    session.open(&link[at..]).await?;
    hear(&session, "Week 3").await?;
    hear(&session, "0 of 2 handed in; they are done in order.").await?;
    wait(&session, "its first exercise", |node| node.role == "heading" && node.name.contains("Notice 3"))
        .await
        .map(drop)
}
