//! One text on its sheet: looks, guides, clues, uncovering, the print beside it, and how fast it was read.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::{self, CellsLine};
use super::drills::text_of;
use super::follow_up::AskAfter;
use super::halves::{Elsewhere, WHOLE};
use super::held::use_held;
use super::learner::{LearnerHandle, now};
use super::paper::Paper;
use super::print_side::{PrintSide, WordAt, print_of, print_side, uncovered};
use super::reader_view::{Facing, View, ViewControls};
use super::settings::use_settings;
use super::sheet_text::{SheetLines, SheetText, focus_text};
use super::teach::Teach;
use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::marking::cause::FollowUp;
use crate::order::Set;
use crate::practice::book::LineKind;
use crate::practice::reading::{HEIGHT, Reading, WIDTH, Word};
use crate::practice::record::{Direction, Event};
use crate::practice::{clues, figures, lines};
use crate::ueb::letter_case::in_small;
use crate::ueb::{self, Options, ReadOptions};

/// A text to read.
#[derive(Properties, PartialEq)]
pub struct ReaderProps {
    /// The text.
    pub reading: Rc<Reading>,
    /// The learner.
    pub learner: LearnerHandle,
    /// Page and line to begin at, from 0.
    pub start: (usize, usize),
    /// Called with page and line when the learner moves on.
    pub on_bookmark: Callback<(usize, usize)>,
}

/// The text on its sheet.
#[component]
pub fn Reader(props: &ReaderProps) -> Html {
    let settings = use_settings();
    let reading = &props.reading;
    let pages = reading.pages.len().max(1);
    let view = use_held(View::kept);
    let page = use_held(|| props.start.0.min(pages - 1));
    let at = use_held(|| (props.start.1, 0usize));
    // Words uncovered: page, line, word.
    let open = use_held(Set::<WordAt>::default);
    let missed = use_held(Set::<WordAt>::default);
    let shown = use_held(usize::default);
    let typed = use_held(String::new);
    let said = use_held(String::new);
    // What may be asked after a mistake, and when that was recorded.
    let ask = use_held(Option::<(FollowUp, u64)>::default);
    let teaching = use_held(bool::default);
    let since = use_mut_ref(now);
    {
        let since = since.clone();
        use_effect_with(*page, move |_| *since.borrow_mut() = now());
    }
    let words = use_memo((reading.clone(), *page, settings.dot_numbers_only), |(reading, page, numbers)| {
        let mut words = reading.words(*page);
        // A cell that reads as nothing stands in the print as itself.
        for word in words.iter_mut().flatten().filter(|_| *numbers) {
            word.print = cells_line::without_glyphs(&word.print);
        }
        Rc::new(words)
    });
    let cells = use_memo((reading.clone(), *page), |(reading, page)| -> Rc<Vec<Vec<Cell>>> {
        let page = reading.pages.get(*page).map(Vec::as_slice).unwrap_or_default();
        // Running heads, page numbers and changes of the print page stand apart, above and below the sheet.
        Rc::new(
            page.iter()
                .map(|line| if line.kind == LineKind::Text { line.cells.clone() } else { Vec::new() })
                .collect(),
        )
    });
    let behind = use_memo((reading.clone(), *page), |(reading, page)| -> Rc<Vec<Vec<Cell>>> {
        // The other side of the sheet is the next page; the last page's, the one before.
        let other = if page + 1 < reading.pages.len() { page + 1 } else { page.saturating_sub(1) };
        Rc::new(
            reading
                .pages
                .get(other)
                .map(|page| page.iter().map(|line| line.cells.clone()).collect())
                .unwrap_or_default(),
        )
    });
    let width = cells.iter().map(Vec::len).max().unwrap_or(0).clamp(1, WIDTH.max(60));
    let (line, cell) = (at.0.min(cells.len().saturating_sub(1)), at.1);
    let line_cells: Vec<Cell> = cells.get(line).cloned().unwrap_or_default();
    let line_words: &[Word] = words.get(line).map(Vec::as_slice).unwrap_or_default();
    let cell = cell.min(line_cells.len().saturating_sub(1));
    let word = line_words.iter().position(|word| word.cells.contains(&cell));

    let set_view = {
        let view = view.clone();
        Callback::from(move |new: View| {
            new.keep();
            view.set(new);
        })
    };
    let go = {
        let (at, shown, on_bookmark, page, said) =
            (at.clone(), shown.clone(), props.on_bookmark.clone(), *page, said.clone());
        move |to: (usize, usize)| {
            if to.0 != at.0 {
                on_bookmark.emit((page, to.0));
                said.set(String::new());
            }
            if to != *at {
                shown.set(0);
            }
            at.set(to);
        }
    };
    let turn_page = |to: usize| {
        let (page, at, shown, typed, on_bookmark) =
            (page.clone(), at.clone(), shown.clone(), typed.clone(), props.on_bookmark.clone());
        Callback::from(move |_: MouseEvent| {
            page.set(to);
            at.set((0, 0));
            shown.set(0);
            typed.set(String::new());
            on_bookmark.emit((to, 0));
        })
    };
    let on_point = {
        let go = go.clone();
        let first = if view.by_line() { line } else { 0 };
        Callback::from(move |(row, cell): (usize, usize)| go((row + first, cell)))
    };
    let onkeydown = {
        let (go, lines) = (go.clone(), (*cells).clone());
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            let end = |line: usize| lines.get(line).map_or(0, |cells| cells.len().saturating_sub(1));
            let last = lines.len().saturating_sub(1);
            let to = match event.key().as_str() {
                "ArrowLeft" if cell > 0 => (line, cell - 1),
                "ArrowLeft" if line > 0 => (line - 1, end(line - 1)),
                "ArrowRight" if cell < end(line) => (line, cell + 1),
                "ArrowRight" if line < last => (line + 1, 0),
                "ArrowUp" if line > 0 => (line - 1, cell.min(end(line - 1))),
                "ArrowDown" if line < last => (line + 1, cell.min(end(line + 1))),
                "Home" => (line, 0),
                "End" => (line, end(line)),
                _ => return,
            };
            event.prevent_default();
            go(to);
        })
    };
    let uncover = |all: Vec<WordAt>| {
        let (open, missed) = (open.clone(), missed.clone());
        Callback::from(move |_: MouseEvent| {
            let (mut new, mut lost) = ((*open).clone(), (*missed).clone());
            for word in &all {
                if new.insert(*word) {
                    lost.insert(*word);
                }
            }
            open.set(new);
            missed.set(lost);
        })
    };
    let of_line = |line: usize| -> Vec<WordAt> {
        (0..words.get(line).map_or(0, Vec::len)).map(|word| (*page, line, word)).collect()
    };
    let this_word = word.map(|word| vec![(*page, line, word)]).unwrap_or_default();
    let check = {
        let (typed, said, open, missed, at, since) =
            (typed.clone(), said.clone(), open.clone(), missed.clone(), at.clone(), since.clone());
        let (learner, line_words, line_cells, contracted) =
            (props.learner.clone(), line_words.to_vec(), line_cells.clone(), reading.contracted);
        let ask = ask.clone();
        let (page, count, on_bookmark) = (*page, cells.len(), props.on_bookmark.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let print = print_of(&line_words);
            if typed.trim().is_empty() {
                return;
            }
            let plain: Vec<Cell> = line_cells.iter().skip_while(|cell| cell.is_blank()).copied().collect();
            let judged = lines::judge_read(&print, &plain, contracted, &typed);
            // Booked sign by sign where the line is what its print asks for; a book's own slips are not the learner's.
            // The first half has no books but the page's own.
            let as_asked = !WHOLE || ueb::transcribe(&print, &Options { contracted, marks: false }) == plain;
            ask.set(None);
            if as_asked {
                let at = now();
                let ms = at.saturating_sub(*since.borrow());
                let answers = lines::answers(&judged, Direction::Read, at, ms, 0);
                ask.set(judged.slips.iter().find_map(|slip| slip.ask).map(|about| (about, at)));
                learner.add_all(&answers.into_iter().map(Event::Answer).collect::<Vec<_>>());
            }
            if judged.right {
                let mut new = (*open).clone();
                for word in 0..line_words.len() {
                    new.insert((page, line, word));
                }
                open.set(new);
                typed.set(String::new());
                said.set(format!("Right: {print}"));
                at.set(((line + 1).min(count.saturating_sub(1)), 0));
                on_bookmark.emit((page, line + 1));
            } else {
                let answer: Vec<String> = typed.split_whitespace().map(in_small).collect();
                let mut lost = (*missed).clone();
                for (n, word) in line_words.iter().enumerate() {
                    if answer.get(n).map(String::as_str) != Some(in_small(&word.print).as_str()) {
                        lost.insert((page, line, n));
                        break;
                    }
                }
                missed.set(lost);
                said.set(format!(
                    "Not yet. {}",
                    judged.slips.first().map(|slip| slip.say.clone()).unwrap_or_default()
                ));
            }
        })
    };
    let finish = {
        let (since, said, missed, learner, title, page) = (
            since.clone(),
            said.clone(),
            missed.clone(),
            props.learner.clone(),
            reading.title.clone(),
            *page,
        );
        let all: usize = words.iter().map(Vec::len).sum();
        let count: usize = cells.iter().flatten().filter(|cell| !cell.is_blank()).count();
        Callback::from(move |_: MouseEvent| {
            let ms = now().saturating_sub(*since.borrow()).max(1);
            let lost = missed.iter().filter(|(of, _, _)| *of == page).count();
            let a_minute = |n: usize| n as u64 * 60_000 / ms;
            said.set(format!(
                "{all} words, {count} cells: {} words and {} cells a minute; {} words uncovered or wrong, {}% read.",
                a_minute(all),
                a_minute(count),
                lost,
                100 * all.saturating_sub(lost) / all.max(1)
            ));
            learner.add(Event::Text {
                title: title.clone(),
                words: all as u32,
                cells: count as u32,
                ms,
                missed: lost as u32,
            });
            *since.borrow_mut() = now();
        })
    };
    let options = ReadOptions { contracted: reading.contracted, ..ReadOptions::default() };
    let line_reading = ueb::read(&line_cells, &options);
    let clue_list = clues::for_cell(&line_cells, cell, &line_reading.pieces, reading.contracted);
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set((*shown + 1).min(6)))
    };
    let knows = props.learner.knows();
    let unknown = reading.pages.get(*page).map(|_| {
        let one = Reading {
            title: String::new(),
            contracted: reading.contracted,
            pages: vec![reading.pages[*page].clone()],
        };
        one.known(1, knows)
    });
    let (share, unknown) = unknown.unwrap_or_default();
    let teach_keys = use_memo(*teaching, |_| Rc::new(unknown.iter().copied().take(6).collect::<Vec<_>>()));
    let teach = {
        let teaching = teaching.clone();
        Callback::from(move |_: MouseEvent| teaching.set(!*teaching))
    };
    let (guides, frames) = view.help(figures::low_shape_help(&props.learner.record));
    let look = if settings.dot_numbers_only { Look::Numbers } else { view.look() };
    let facing = view.facing();
    let by_line = view.by_line();
    // Line by line, the sheet holds one line; that of the other side lies behind it.
    let one = |all: &[Vec<Cell>]| Rc::new(vec![all.get(line).cloned().unwrap_or_default()]);
    let (on_sheet, beneath) =
        if by_line { (one(&cells), one(&behind)) } else { ((*cells).clone(), (*behind).clone()) };
    let first = if by_line { line } else { 0 };
    // Blank lines, and those that stand apart, are passed over.
    let has_text = |at: &usize| cells.get(*at).is_some_and(|line| !line.is_empty());
    let line_before = (0..line).rev().find(has_text);
    let next_line = (line + 1..cells.len()).find(has_text);
    let step = |to: Option<usize>| {
        let go = go.clone();
        Callback::from(move |_: MouseEvent| go((to.unwrap_or(line), 0)))
    };
    let apart: Vec<String> = reading
        .pages
        .get(*page)
        .into_iter()
        .flatten()
        .zip(words.iter())
        .filter(|(line, _)| line.kind != LineKind::Text)
        .map(|(line, words)| {
            let kind = match line.kind {
                LineKind::RunningHead => "running head",
                LineKind::PageNumber => "page number",
                _ => "the print page changes",
            };
            format!("{} ({kind})", print_of(words))
        })
        .collect();
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    let covered = facing == Facing::BrailleCovered;
    let text = use_memo((on_sheet.clone(), look == Look::Numbers, covered), |(lines, numbers, covered)| {
        SheetLines::of(lines.iter().map(|line| if *covered { &[][..] } else { &line[..] }), *numbers)
    });
    html! {
        <>
            <ViewControls view={*view} {look} set={set_view} />
            <div class="reading-room">
                <div>
                    <h2>{ cells_line::shown(&reading.title, &settings) }</h2>
                    <p class="note">{ format!("Page {} of {}. You know {}% of the cells here.", *page + 1, pages, (share * 100.0) as u32) }</p>
                    if !apart.is_empty() { <p class="note apart">{ apart.join("; ") }</p> }
                    <div class={classes!("face", (facing != Facing::Alone).then_some("two"))} style={format!("--dot:{}.{}px", view.dot / 10, view.dot % 10)}>
                        <div class="read-sheet" onclick={|event: MouseEvent| focus_text(&event)}>
                        <SheetText label={format!("{}, page {}", cells_line::shown(&reading.title, &settings), *page + 1)} lines={text}
                            help="Arrow keys move from cell to cell. Tab moves on, out of the sheet. What is said of a cell is set in the room Write, under Settings for writing."
                            at={(line - first, cell)} cell={line_cells.get(cell).copied().filter(|_| !covered)} place={format!("line {}, cell {}", line + 1, cell + 1)}
                            on_move={on_point.clone()} on_key={onkeydown} />
                            if look == Look::Numbers {
                                { for on_sheet.iter().enumerate().map(|(n, cells)| html! {
                                    <div class={classes!("sheet-line", (n + first == line).then_some("now"))}>
                                        if !covered { <CellsLine cells={Rc::from(cells.as_slice())} numbers={Some(true)} /> }
                                    </div>
                                }) }
                            } else {
                                <Paper lines={on_sheet.clone()} behind={beneath} {look} light={view.light} {guides} {frames} {width}
                                    at={Some((line - first, cell))} {covered} {on_point} />
                            }
                        </div>
                        if facing != Facing::Alone {
                            { print_side(&PrintSide { words: &words, page: *page, line, alone: by_line, open: (facing == Facing::PrintCovered).then_some(&*open) }) }
                        }
                    </div>
                    <div class="controls">
                        if by_line {
                            <button type="button" disabled={line_before.is_none()} onclick={step(line_before)}>{ "Line before" }</button>
                            <button type="button" disabled={next_line.is_none()} onclick={step(next_line)}>{ "Next line" }</button>
                        }
                        <button type="button" disabled={*page == 0} onclick={turn_page(page.saturating_sub(1))}>{ "Page before" }</button>
                        <button type="button" disabled={*page + 1 >= pages} onclick={turn_page((*page + 1).min(pages - 1))}>{ "Next page" }</button>
                        <button type="button" class="main push" onclick={finish}>{ "I have read this page" }</button>
                    </div>
                </div>
                <aside aria-label="Clues">
                    <form class="says-line" onsubmit={check}>
                        <label>{ format!("Line {} says ", line + 1) }
                            <input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                        </label>
                        <button type="submit">{ "Check" }</button>
                    </form>
                    <p role="status">{ (*said).clone() }</p>
                    if WHOLE {
                        if let Some((about, at)) = *ask { <AskAfter about={Some(about)} {at} /> }
                    }
                    <p class="uncovered" aria-live="polite">{ uncovered(line_words, |word| open.contains(&(*page, line, word))) }</p>
                    <div class="controls">
                        <button type="button" class="quiet" onclick={uncover(this_word)}>{ "Uncover the word" }</button>
                        <button type="button" class="quiet" onclick={uncover(of_line(line))}>{ "the line" }</button>
                        <button type="button" class="quiet" onclick={uncover((0..words.len()).flat_map(of_line).collect())}>{ "the page" }</button>
                    </div>
                    <h2>{ format!("Clues for line {}, cell {}", line + 1, cell + 1) }</h2>
                    <p class="note">{ "Point at a cell, or use the arrow keys on the sheet." }</p>
                    <button type="button" onclick={more}>{ "A clue" }</button>
                    <ol class="clues" aria-live="polite">{ for clue_list.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
                    if !unknown.is_empty() {
                        <button type="button" class="quiet" onclick={teach}>{ if *teaching { "Put this away".to_owned() } else { format!("Learn {} signs of this page first", unknown.len().min(6)) } }</button>
                        if *teaching && !WHOLE { <Elsewhere /> }
                        if *teaching && WHOLE { <Teach learner={props.learner.clone()} keys={(*teach_keys).clone()} shown_first=true on_end={Callback::noop()} /> }
                    }
                </aside>
            </div>
            <p class="sr">{ format!("A full page has {HEIGHT} lines of {WIDTH} cells.") }</p>
        </>
    }
}
