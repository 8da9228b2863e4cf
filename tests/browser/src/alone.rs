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
