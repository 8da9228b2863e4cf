//! A page of braille as paper: all its dots in one drawing, in ink, raised, or raised on both sides.
//!
//! However many cells there are, each layer (dots, shade, light) is one path, so a full page stays light to draw.

use std::fmt::Write as _;
use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::order::within;
use crate::page::widgets::cells_line::{CELL_WIDTH, LINE_HEIGHT, decimal};

const LEFT: f64 = (CELL_WIDTH - 1.0) / 2.0;
const TOP: f64 = (LINE_HEIGHT - 2.0) / 2.0;
/// How far the other side's dots lie from the places of this side's, in units of the distance between two dots (common
/// practice for interpoint: between this side's dots).
const BETWEEN: f64 = 0.5;

/// Where the light comes from: the name, and the direction of the shade to the right and down.
pub const LIGHTS: [(&str, f64, f64); 8] = [
    ("upper left", 0.7, 0.7),
    ("top", 0.0, 1.0),
    ("upper right", -0.7, 0.7),
    ("right", -1.0, 0.0),
    ("lower right", -0.7, -0.7),
    ("bottom", 0.0, -1.0),
    ("lower left", 0.7, -0.7),
    ("left", 1.0, 0.0),
];

/// What is on the paper, and how it looks.
#[derive(Properties, PartialEq)]
pub struct PaperProps {
    /// The lines of the page.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// The lines of the other side, as they are read there; they show as pits in the interpoint look.
    #[prop_or_default]
    pub behind: Rc<Vec<Vec<Cell>>>,
    /// Ink, raised or interpoint.
    pub look: Look,
    /// Which of [`LIGHTS`].
    #[prop_or_default]
    pub light: usize,
    /// Guide lines through rows and columns: how strong, 0 to 1.
    #[prop_or_default]
    pub guides: f64,
    /// Faint cell frames: how strong, 0 to 1.
    #[prop_or_default]
    pub frames: f64,
    /// Cells in a line.
    pub width: usize,
    /// Line and cell that stand out.
    #[prop_or_default]
    pub at: Option<(usize, usize)>,
    /// Cells that are underlined: line, first cell, and the cell after the last.
    #[prop_or_default]
    pub marks: Rc<Vec<(usize, usize, usize)>>,
    /// Whether the cells are covered, so that only the print shows.
    #[prop_or_default]
    pub covered: bool,
    /// Called with the line and the cell that was pointed at.
    #[prop_or_default]
    pub on_point: Callback<(usize, usize)>,
}

fn dots(lines: &[Vec<Cell>], y: f64, place: impl Fn(usize, u8) -> f64) -> String {
    let count: usize = lines.iter().map(Vec::len).sum();
    let mut path = String::with_capacity(count * 40);
    for (row, cells) in lines.iter().enumerate() {
        let top = y + TOP + row as f64 * LINE_HEIGHT;
        for (column, cell) in cells.iter().enumerate() {
            for dot in cell.dots() {
                let (across, down) = (place(column, dot), top + f64::from((dot - 1) % 3));
                let _ = write!(path, "M{} {}h0", decimal(across), decimal(down));
            }
        }
    }
    path
}

fn front(column: usize, dot: u8) -> f64 {
    LEFT + column as f64 * CELL_WIDTH + f64::from((dot - 1) / 3)
}

/// Lines through the rows and columns of dots.
fn guide_path(rows: usize, width: usize) -> String {
    let (wide, high) = (width as f64 * CELL_WIDTH, rows as f64 * LINE_HEIGHT);
    let mut path = String::new();
    for row in 0..rows {
        for dot in 0..3 {
            let down = TOP + row as f64 * LINE_HEIGHT + f64::from(dot);
            let _ = write!(path, "M0 {}H{}", decimal(down), decimal(wide));
        }
    }
    for column in 0..width {
        for side in 0..2 {
            let across = LEFT + column as f64 * CELL_WIDTH + f64::from(side);
            let _ = write!(path, "M{} 0V{}", decimal(across), decimal(high));
        }
    }
    path
}

fn frame_path(rows: usize, width: usize) -> String {
    let mut path = String::new();
    for row in 0..rows {
        for column in 0..width {
            let (x, y) = (column as f64 * CELL_WIDTH + LEFT - 0.5, row as f64 * LINE_HEIGHT + TOP - 0.5);
            let _ = write!(path, "M{} {}h2v3h-2z", decimal(x), decimal(y));
        }
    }
    path
}

/// A line under each of the marked cells.
fn mark_path(marks: &[(usize, usize, usize)]) -> String {
    let mut path = String::new();
    for (line, from, to) in marks {
        let (x, y) = (*from as f64 * CELL_WIDTH + 0.3, (*line + 1) as f64 * LINE_HEIGHT - 0.35);
        let _ = write!(path, "M{} {}H{}", decimal(x), decimal(y), decimal(*to as f64 * CELL_WIDTH - 0.3));
    }
    path
}

/// The page.
#[component]
pub fn Paper(props: &PaperProps) -> Html {
    let rows = props.lines.len().max(1);
    let (wide, high) = (props.width as f64 * CELL_WIDTH, rows as f64 * LINE_HEIGHT);
    let path = use_memo(props.lines.clone(), |lines| dots(lines, 0.0, front));
    let pits = {
        let wanted = props.look == Look::Interpoint;
        use_memo((props.behind.clone(), props.width, wanted), |(behind, width, wanted)| {
            if !wanted {
                return String::new();
            }
            // Seen from this side, the other side runs from right to left, every cell mirrored.
            dots(behind, BETWEEN, |column, dot| {
                let cell = (width.saturating_sub(column + 1)) as f64 * CELL_WIDTH;
                cell + LEFT + BETWEEN + 1.0 - f64::from((dot - 1) / 3)
            })
        })
    };
    let raised = props.look != Look::Ink;
    let (_, dx, dy) = LIGHTS[props.light.min(LIGHTS.len() - 1)];
    let shift = |by: f64| format!("translate({} {})", decimal(dx * by), decimal(dy * by));
    let onpointerdown = {
        let (on_point, rows, width) = (props.on_point.clone(), rows, props.width);
        Callback::from(move |event: PointerEvent| {
            let Some(target) = event.current_target() else { return };
            let Ok(svg) = wasm_bindgen::JsCast::dyn_into::<web_sys::Element>(target) else { return };
            let area = svg.get_bounding_client_rect();
            let share =
                |at: i32, from: f64, size: f64| within((f64::from(at) - from) / size.max(1.0), 0.0, 0.999);
            let line = share(event.client_y(), area.top(), area.height()) * rows as f64;
            let cell = share(event.client_x(), area.left(), area.width()) * width as f64;
            on_point.emit((line as usize, cell as usize));
        })
    };
    html! {
        <svg class={classes!("paper", raised.then_some("raised"))} viewBox={format!("0 0 {} {}", decimal(wide), decimal(high))} aria-hidden="true"
            style={format!("width:calc(var(--dot)*{});height:calc(var(--dot)*{})", decimal(wide), decimal(high))} {onpointerdown}>
            if let Some((line, cell)) = props.at {
                <rect class="here" x={decimal(cell as f64 * CELL_WIDTH)} y={decimal(line as f64 * LINE_HEIGHT + 0.2)}
                    width={decimal(CELL_WIDTH)} height={decimal(LINE_HEIGHT - 0.4)} />
            }
            if props.guides > 0.0 { <path class="guide" style={format!("opacity:{}", decimal(props.guides))} d={guide_path(rows, props.width)} /> }
            if props.frames > 0.0 { <path class="frame" style={format!("opacity:{}", decimal(props.frames))} d={frame_path(rows, props.width)} /> }
            if props.look == Look::Interpoint {
                <path class="pit" transform={shift(-0.06)} d={(*pits).clone()} />
                <path class="pit-floor" transform={shift(0.07)} d={(*pits).clone()} />
            }
            if !props.marks.is_empty() && !props.covered { <path class="mark" d={mark_path(&props.marks)} /> }
            if props.covered {
            } else if raised {
                <path class="shade" transform={shift(0.13)} d={(*path).clone()} />
                <path class="dot" d={(*path).clone()} />
                <path class="light" transform={shift(-0.12)} d={(*path).clone()} />
            } else {
                <path class="dot" d={(*path).clone()} />
            }
        </svg>
    }
}
