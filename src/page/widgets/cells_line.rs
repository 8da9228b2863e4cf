//! Cells drawn as shapes: one line of a sheet, a sign of the chart, a cell that is asked.
//!
//! A run of cells is one SVG with one path for all its dots, so hundreds of cells stay light. Where the learner wants
//! dot numbers only, the same component shows the numbers and no glyph at all. To assistive technology a run is one
//! piece of Unicode braille text (or of dot numbers), whatever the eye sees.

use std::fmt::Write as _;
use std::rc::Rc;

use yew::prelude::*;

use crate::cell::{self, Cell};
use crate::page::learner::settings::{Settings, use_settings};

/// Cell to cell, in units of the distance between two dots of a cell: 6.2 mm to 2.34 mm (Specification 800, Braille Books
/// and Pamphlets, section 3.2, February 2008).
pub const CELL_WIDTH: f64 = 2.65;
/// Line to line, in the same units: 10.0 mm to 2.34 mm.
pub const LINE_HEIGHT: f64 = 4.27;
/// From the cell's edge to its left column, and from the line's edge to its top row.
const LEFT: f64 = (CELL_WIDTH - 1.0) / 2.0;
const TOP: f64 = (LINE_HEIGHT - 2.0) / 2.0;

/// A length with two decimals. Only whole numbers are put into words here: what the standard library needs to write
/// others would be a tenth of the page's first half.
pub fn decimal(value: f64) -> String {
    let hundredths = (value * 100.0).round() as i64;
    let sign = if hundredths < 0 { "-" } else { "" };
    format!("{sign}{}.{:02}", hundredths.abs() / 100, hundredths.abs() % 100)
}

/// The path of all dots of `cells` that are raised (or, with `absent`, that are not), as points of no length: the
/// stroke's round caps make them dots.
pub fn dots_path(cells: &[Cell], absent: bool) -> String {
    let mut path = String::with_capacity(cells.len() * 40);
    for (place, cell) in cells.iter().enumerate() {
        for dot in 1..=6u8 {
            if cell.has_dot(dot) != absent {
                let x = LEFT + place as f64 * CELL_WIDTH + f64::from((dot - 1) / 3);
                let y = TOP + f64::from((dot - 1) % 3);
                let _ = write!(path, "M{} {}h0", decimal(x), decimal(y));
            }
        }
    }
    path
}

/// Dot numbers of a run, "1-2-4 1-5"; the blank cell is the word "blank".
pub fn numbers(cells: &[Cell]) -> String {
    cells.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(" ")
}

/// The text that stands for cells where a glyph may not: Unicode braille, or dot numbers.
pub fn as_text(cells: &[Cell], dot_numbers_only: bool) -> String {
    if dot_numbers_only { numbers(cells) } else { cell::to_unicode(cells) }
}

/// Cells as they are told where they are asked about: as text for a display, with words beside it, since a voice may have none
/// for braille. The words are the dots, or, where the dots are what is asked, how many cells there are.
pub fn in_words(cells: &[Cell], dot_numbers_only: bool, dots: bool) -> String {
    let text = as_text(cells, dot_numbers_only);
    let count = cells.len();
    match (dots, dot_numbers_only) {
        (true, true) => format!("dots {text}"),
        (true, false) => {
            let dots: Vec<String> = cells.iter().map(|cell| cell.dot_numbers().replace('-', " ")).collect();
            format!("{text} dots {}", dots.join(", "))
        }
        (false, _) if count == 1 => format!("{text} one cell"),
        (false, _) => format!("{text} {count} cells"),
    }
}

/// A line of cells as it is told where it is to be read: as text for a display, with words before it.
pub fn line_in_words(cells: &[Cell]) -> String {
    format!("A line of {} cells: {}", cells.len(), cell::to_unicode(cells))
}

/// Print with any braille glyph in it put into words, "(dots 1-2-4)", for dot numbers only.
pub fn without_glyphs(print: &str) -> String {
    if !print.chars().any(|c| ('\u{2800}'..='\u{28ff}').contains(&c)) {
        return print.to_owned();
    }
    print
        .chars()
        .map(|c| match Cell::from_unicode(c) {
            Some(cell) => format!("(dots {})", cell.dot_numbers()),
            None if ('\u{2840}'..='\u{28ff}').contains(&c) => "(eight dots)".to_owned(),
            None => c.to_string(),
        })
        .collect()
}

/// Print as this learner may see it: without a braille glyph where they want dot numbers only.
pub fn shown(print: &str, settings: &Settings) -> String {
    if settings.dot_numbers_only { without_glyphs(print) } else { print.to_owned() }
}

/// Cells that a finding is about: underlined, and numbered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellMark {
    /// The first cell, from 0, in the run.
    pub from: usize,
    /// The cell after the last.
    pub to: usize,
    /// The finding's number.
    pub number: usize,
}

/// How dots look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// Black dots on paper.
    #[default]
    Ink,
    /// Embossed, lit from the upper left.
    Raised,
}

/// A run of cells to draw.
#[derive(Properties, PartialEq)]
pub struct CellsProps {
    /// The cells.
    pub cells: Rc<[Cell]>,
    /// Ink or raised.
    #[prop_or_default]
    pub look: Look,
    /// The other side's dots shine through as hollows (interpoint); cells of the back, already mirrored.
    #[prop_or_default]
    pub behind: Option<Rc<[Cell]>>,
    /// Dot numbers instead of dots; by default as the learner has set it.
    #[prop_or_default]
    pub numbers: Option<bool>,
    /// Faint frames for absent dots; by default as the learner has set it.
    #[prop_or_default]
    pub frames: Option<bool>,
    /// Distance between two dots in CSS pixels; by default as the learner has set it.
    #[prop_or_default]
    pub dot: Option<f64>,
    /// Findings.
    #[prop_or_default]
    pub marks: Vec<CellMark>,
    /// What assistive technology hears instead of the cells themselves.
    #[prop_or_default]
    pub says: Option<AttrValue>,
    /// More classes.
    #[prop_or_default]
    pub class: Classes,
}

/// A run of cells in one line: `<CellsLine cells={Rc::from(cells)} />`.
#[component]
pub fn CellsLine(props: &CellsProps) -> Html {
    let settings = use_settings();
    let only_numbers = props.numbers.unwrap_or(settings.dot_numbers_only);
    let said = props.says.clone().unwrap_or_else(|| as_text(&props.cells, only_numbers).into());
    let size = props.dot.unwrap_or(settings.dot);
    let drawn = if only_numbers {
        draw_numbers(&props.cells, &props.marks)
    } else {
        let frames = props.frames.unwrap_or(settings.frames);
        draw_dots(&props.cells, props.behind.as_deref(), props.look, frames, &props.marks)
    };
    html! {
        <span class={classes!("cells", props.class.clone())} style={format!("--dot:{}px", decimal(size))}>
            <span class="sr">{ said }</span>
            <span aria-hidden="true">{ drawn }</span>
        </span>
    }
}

/// A text of cells that wraps between its words: `<CellsText cells={..} />`. A word that is wider than the screen is drawn
/// smaller. It is told as one line.
#[component]
pub fn CellsText(props: &CellsProps) -> Html {
    let settings = use_settings();
    let numbers = props.numbers.unwrap_or(settings.dot_numbers_only);
    let says = if numbers { as_text(&props.cells, true) } else { line_in_words(&props.cells) };
    let size = props.dot.unwrap_or(settings.dot);
    html! {
        <span class="cells cells-text-block" style={format!("--size:{}px", decimal(size))}>
            <span class="sr">{ says }</span>
            <span class="wraps" aria-hidden="true">
                { for props.cells.split(|cell| cell.is_blank()).map(|word| if numbers {
                    draw_numbers(word, &[])
                } else {
                    html! { <span class="piece">{ draw_dots(word, None, props.look, props.frames.unwrap_or(settings.frames), &[]) }</span> }
                }) }
            </span>
        </span>
    }
}

/// A line under the cells of a finding; where something is missing, a wedge between them.
pub fn mark_path(mark: &CellMark) -> String {
    let (from, to) = (mark.from as f64 * CELL_WIDTH, mark.to as f64 * CELL_WIDTH);
    if mark.to > mark.from {
        format!("M{} 3.9H{}", decimal(from + 0.3), decimal(to - 0.3))
    } else {
        format!("M{} 4.15L{} 3.4L{} 4.15", decimal(from - 0.5), decimal(from), decimal(from + 0.5))
    }
}

/// Where the numbers of findings stand, across, and the numbers: those that begin at one cell stand side by side.
pub fn mark_numbers(marks: &[CellMark]) -> impl Iterator<Item = (f64, String)> {
    marks
        .chunk_by(|one, next| one.from == next.from)
        .map(|here| (here[0].from as f64 * CELL_WIDTH + 0.2, numbers_of(here.iter())))
}

/// The numbers of the findings that begin at a cell; empty where none begins.
pub fn mark_numbers_at(marks: &[CellMark], place: usize) -> String {
    numbers_of(marks.iter().filter(|mark| mark.from == place))
}

fn numbers_of<'a>(marks: impl Iterator<Item = &'a CellMark>) -> String {
    let mut all = String::new();
    for mark in marks {
        let gap = if all.is_empty() { "" } else { " " };
        all.push_str(gap);
        all.push_str(&mark.number.to_string());
    }
    all
}

/// The dots of a run as one SVG, as high as a line and as wide as its cells.
pub fn draw_dots(
    cells: &[Cell],
    behind: Option<&[Cell]>,
    look: Look,
    frames: bool,
    marks: &[CellMark],
) -> Html {
    let width = cells.len().max(1) as f64 * CELL_WIDTH;
    let path = dots_path(cells, false);
    html! {
        <svg class={classes!("dots", (look == Look::Raised).then_some("raised"))}
            viewBox={format!("0 0 {} {}", decimal(width), decimal(LINE_HEIGHT))} style={format!("--n:{}", cells.len().max(1))}>
            if let Some(behind) = behind {
                <path class="behind" d={dots_path(behind, false)} />
            }
            if frames {
                <path class="absent" d={dots_path(cells, true)} />
            }
            if look == Look::Raised {
                <path class="shade" d={path.clone()} />
                <path class="dot" d={path.clone()} />
                <path class="light" d={path} />
            } else {
                <path class="dot" d={path} />
            }
            { for marks.iter().map(|mark| html! { <path class="mark" d={mark_path(mark)} /> }) }
            { for mark_numbers(marks).map(|(at, numbers)| html! { <text class="mark-number" x={decimal(at)} y="0.85">{ numbers }</text> }) }
        </svg>
    }
}

/// The dot numbers of a run, cell by cell.
pub fn draw_numbers(cells: &[Cell], marks: &[CellMark]) -> Html {
    html! {
        <span class="numbers">
            { for cells.iter().enumerate().map(|(place, cell)| {
                let mark = marks.iter().find(|mark| (mark.from..mark.to.max(mark.from + 1)).contains(&place));
                let numbers = mark_numbers_at(marks, place);
                html! {
                    <>
                        if !numbers.is_empty() { <sup class="mark-number">{ numbers }</sup> }
                        <span class={classes!("number", mark.map(|_| "marked"))} data-at={place.to_string()}>{ cell.dot_numbers() }</span>
                        { " " }
                    </>
                }
            }) }
        </span>
    }
}

/// Cells of a line that a finding is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineMark {
    /// The line, from 0.
    pub line: usize,
    /// The cells and the finding's number.
    pub mark: CellMark,
}
