//! A drill, a transcription with a heading and italics, its marking and correction, and a round with its result, by the keyboard
//! alone: the log of what a screen reader would say is kept in `tests/browser/conversations`, and is the same each time. To keep a
//! new one: `KEEP_CONVERSATIONS=1`, and read it.

use cellwright::cell;
use cellwright::exercise::{Exercise, Task};
use cellwright::ueb::{self, Options};

use crate::browser::{BACKSPACE, END, ENTER, Failed, Outcome, Session, TAB, ensure};
use crate::heard::{heard, listen};
use crate::site::project;

/// A log as it grows: what was done, and what was heard then.
struct Log<'a> {
    session: &'a Session,
    lines: Vec<String>,
}

impl Log<'_> {
    /// What was done, in brackets, and what was heard of it.
    async fn done(&mut self, what: &str) -> Outcome {
        self.lines.push(format!("[{what}]"));
        let heard = of_cells(heard(self.session).await?);
        self.lines.extend(heard.into_iter().map(|line| format!("    {line}")));
        Ok(())
    }

    /// Tab until what has the focus is named so; what is passed on the way is left out.
    async fn tab_to(&mut self, name: &str) -> Outcome {
        for _ in 0..40 {
            self.session.press(TAB).await?;
            let at = self
                .session
                .script("const at = document.activeElement; return at.getAttribute('aria-label') ?? at.labels?.[0]?.textContent.trim() ?? at.textContent.trim()")
                .await?;
            if at.as_str().is_some_and(|at| at.starts_with(name)) {
                let last = heard(self.session).await?.pop();
                self.lines.push(format!("[Tab to “{name}”]"));
                self.lines.extend(last.map(|line| format!("    {line}")));
                return Ok(());
            }
        }
        Err(Failed(format!("Tab does not reach {name:?}; so far:\n{}", self.lines.join("\n"))))
    }

    /// Holds the log against the one that is kept.
    fn is_kept(&self, name: &str) -> Outcome {
        let path = project().join("tests/browser/conversations").join(name);
        let now = self.lines.join("\n") + "\n";
        if std::env::var_os("KEEP_CONVERSATIONS").is_some() {
            std::fs::create_dir_all(project().join("tests/browser/conversations"))?;
            std::fs::write(&path, &now)?;
        }
        let kept = std::fs::read_to_string(&path)?;
        ensure(kept == now, || format!("{} reads otherwise; now it is:\n{now}", path.display()))
    }
}

/// Cells that are written one after another are said together or apart by the pace at which they come, and the first of many
/// not at all: of a run of them the last two are kept.
fn of_cells(heard: Vec<String>) -> Vec<String> {
    let is_cell = |said: &str| {
        let said = said.strip_prefix("erased ").unwrap_or(said);
        said == "blank" || said.starts_with("dot ") || said.starts_with("dots ")
    };
    let mut out: Vec<Vec<String>> = Vec::new();
    for line in heard {
        let parts: Vec<String> = line.split("; ").map(str::to_owned).collect();
        let cells = parts.iter().all(|part| is_cell(part));
        match out.last_mut() {
            Some(last) if cells && last.iter().all(|part| is_cell(part)) => last.extend(parts),
            _ => out.push(parts),
        }
    }
    let last_two = |parts: Vec<String>| {
        let from = if parts.iter().all(|part| is_cell(part)) { parts.len().saturating_sub(2) } else { 0 };
        parts[from..].join("; ")
    };
    out.into_iter().map(last_two).collect()
}

/// The cells that a drill asks for by their dots.
async fn asked_dots(session: &Session) -> Outcome<Vec<cell::Cell>> {
    let asked = session.script("return document.querySelector('.asked .large').textContent").await?;
    let numbers = asked.as_str().unwrap_or_default().replace("dots ", "").replace("dot ", "");
    Ok(numbers.split(", ").filter_map(cell::Cell::from_dot_numbers).collect())
}

pub async fn a_drill(session: Session) -> Outcome {
    listen(&session).await?;
    session.open("#/practise").await?;
    session.find("combobox", "Drill").await?.select_by_label("Dot numbers: write the cell").await?;
    session
        .until("the drill", "return document.querySelector('.asked .large')?.textContent.startsWith('dot')")
        .await?;
    session.find("textbox", "Braille").await?.click().await?;
    heard(&session).await?;
    let mut log = Log { session: &session, lines: Vec::new() };
    session.press(ENTER).await?;
    log.done("Enter on the empty box").await?;
    for n in 0..2 {
        session.type_cells(&asked_dots(&session).await?).await?;
        log.done(if n == 0 { "The cell is written" } else { "And the next" }).await?;
    }
    let wrong: Vec<cell::Cell> = asked_dots(&session).await?.into_iter().map(cell::Cell::mirror).collect();
    session.type_cells(&wrong).await?;
    log.done("It is written mirrored").await?;
    log.tab_to("A clue").await?;
    session.press(ENTER).await?;
    log.done("Enter").await?;
    log.is_kept("drill.txt")
}

const PRINT: &str = "# The boats\n\nThe *Kittiwake* sails.";

pub async fn a_transcription_is_marked_and_corrected(session: Session) -> Outcome {
    listen(&session).await?;
    session.open("#/transcribe").await?;
    session.unfold().await?;
    let print = format!(
        "const field = document.querySelector('textarea[rows=\"10\"]'); field.focus(); field.value = {PRINT:?}; field.dispatchEvent(new Event('input', {{bubbles: true}}))"
    );
    session.script(&print).await?;
    session.find("textbox", "Braille").await?;
    session.script("window.scrollTo(0, 0); document.querySelector('.text-box').focus()").await?;
    heard(&session).await?;
    let mut log = Log { session: &session, lines: Vec::new() };
    // The heading is centred; the paragraph begins in cell 3.
    let heading = ueb::transcribe("The boats", &Options::default());
    let centred = [vec![cell::Cell::BLANK; (40 - heading.len()) / 2], heading].concat();
    session.type_cells(&centred).await?;
    log.done("The heading is written").await?;
    session.press(ENTER).await?;
    session.press(ENTER).await?;
    log.done("Enter twice").await?;
    let line = ueb::transcribe("  The *Kittiwake* sails.", &Options { marks: true, ..Options::default() });
    let s = cell::from_ascii("s").expect("a cell")[0];
    let at = line.iter().rposition(|cell| *cell == s).ok_or_else(|| Failed("no s".into()))?;
    let mut wrong = line.clone();
    wrong[at] = s.mirror();
    session.type_cells(&wrong).await?;
    log.done("The line, its last s mirrored").await?;
    log.tab_to("Mark my work").await?;
    session.press(ENTER).await?;
    session.find("heading", "How it came out").await?;
    log.done("Enter").await?;
    log.tab_to("Why, finding 1").await?;
    session.press(ENTER).await?;
    log.done("Enter").await?;
    session.press(TAB).await?;
    log.done("Tab").await?;
    session.script("document.querySelector('.text-box').focus()").await?;
    session.with_control(&END.to_string()).await?;
    log.done("Back to the writing, and to its end").await?;
    for _ in at..line.len() {
        session.press(BACKSPACE).await?;
    }
    log.done("The last cells are erased").await?;
    session.type_cells(&line[at..]).await?;
    log.done("And written right").await?;
    log.tab_to("Mark my work").await?;
    session.press(ENTER).await?;
    log.done("Enter").await?;
    log.is_kept("transcription.txt")
}

pub async fn a_round_with_its_result(session: Session) -> Outcome {
    listen(&session).await?;
    let set = Exercise {
        title: "Two lines".into(),
        text: "The ferry\nNo dogs".into(),
        task: Task::Read,
        ..Exercise::default()
    };
    session.open(&format!("#/x/{}", set.to_payload()?)).await?;
    session.find("textbox", "It says").await?.click().await?;
    heard(&session).await?;
    let mut log = Log { session: &session, lines: Vec::new() };
    session.press(ENTER).await?;
    log.done("Enter on the empty box").await?;
    for (answer, what) in
        [("the ferry", "The first line is read right"), ("no logs", "The second is misread")]
    {
        session.find("textbox", "It says").await?.send_keys(answer).await?;
        session.press(ENTER).await?;
        log.done(what).await?;
        session.press(ENTER).await?;
        log.done("Enter goes on").await?;
    }
    log.is_kept("round.txt")
}

/// In one text box: what is asked, the answer and how it came out stand in it and nowhere else, and it is remembered.
pub async fn a_drill_in_one_box(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.unfold().await?;
    session.switch("Drills in one text box, for a display", true).await?;
    session.open("#/practise").await?;
    session.find("combobox", "Drill").await?.select_by_label("Dot numbers: write the cell").await?;
    session.find("textbox", "Drill").await?.click().await?;
    let text = "return document.querySelector('.one-box').value";
    let lines = async || -> Outcome<Vec<String>> {
        let now = session.script(text).await?;
        Ok(now.as_str().unwrap_or_default().lines().map(str::to_owned).collect())
    };
    let asked = lines().await?.concat();
    ensure(asked.ends_with(": write ") && asked.chars().count() <= 40, || format!("asked is {asked:?}"))?;
    // Nothing is answered by Enter alone, and what is asked cannot be written over.
    session.press(ENTER).await?;
    session.press(BACKSPACE).await?;
    session.until("what is asked", &format!("{text} === {asked:?}")).await?;
    let dots = asked
        .trim_start_matches("dots ")
        .trim_start_matches("dot ")
        .trim_end_matches(": write ")
        .replace(", ", " ");
    for key in dots.chars() {
        session.press(key).await?;
    }
    session.press(ENTER).await?;
    session.until("the verdict", &format!("{text}.split('\\n').length === 2")).await?;
    let told = lines().await?;
    ensure(told[0] == format!("{asked}{dots}") && told[1].starts_with("Right"), || {
        format!("it tells {told:?}")
    })?;
    let caret = session.script("return document.activeElement.value.slice(0, document.activeElement.selectionStart).split('\\n').length").await?;
    ensure(caret == 2, || format!("the display shows line {caret}"))?;
    session.press(ENTER).await?;
    session.until("the next", &format!("{text}.match(/^[^\\n]*: write $/) !== null")).await?;
    // A clue, and braille as a display writes it.
    session.press('?').await?;
    session.press(ENTER).await?;
    session.until("a clue", &format!("{text}.split('\\n')[1]?.length > 3")).await
}
