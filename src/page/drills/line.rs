//! Words and sentences, to read and to write.

use std::rc::Rc;

use yew::prelude::*;

use super::super::held::use_held;
use super::{DrillProps, no_words};
use crate::cell::Cell;
use crate::page::braille_input::{BrailleInput, Given};
use crate::page::cells_line::CellsLine;
use crate::page::follow_up::AskAfter;
use crate::page::learner::{now, seed};
use crate::page::read_line::ReadLine;
use crate::page::written::Written;
use crate::practice::lines;
use crate::practice::record::{Direction, Event};
use crate::ueb::{self, Options};

/// What the drill needs.
#[derive(Properties, PartialEq)]
pub struct LineDrillProps {
    /// What every drill is given.
    pub drill: DrillProps,
    /// Single words, or sentences.
    pub words: bool,
    /// To write, or to read.
    pub write: bool,
    /// To read as the back of a sheet.
    #[prop_or_default]
    pub back: bool,
}

fn draw(props: &LineDrillProps, chance: &mut fastrand::Rng) -> Option<String> {
    let drill = &props.drill;
    let only = &drill.only;
    let supply = drill.supply.as_ref()?;
    let direction = if props.write { Direction::Write } else { Direction::Read };
    let memories = &drill.learner.memories;
    let due: Vec<&str> = memories
        .due(now())
        .into_iter()
        .filter(|(_, of)| *of == direction)
        .map(|(key, _)| key.as_str())
        .filter(|_| only.is_empty())
        .chain(only.iter().copied())
        .collect();
    if props.words {
        supply.word(drill.unit, drill.contracted, &due, chance).map(str::to_owned)
    } else {
        supply.sentence(drill.unit, drill.contracted, &due, chance)
    }
}

/// The drill.
#[component]
pub fn LineDrill(props: &LineDrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let line = use_held(|| draw(props, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let said = use_held(String::new);
    {
        // The words may arrive after the drill was opened.
        let line = line.clone();
        let here = props.drill.supply.is_some();
        let new = if line.is_none() { draw(props, &mut chance.borrow_mut()) } else { None };
        use_effect_with(here, move |_| {
            if new.is_some() {
                line.set(new);
            }
        });
    }
    let on_next = {
        let (line, turn, said, chance) = (line.clone(), turn.clone(), said.clone(), chance.clone());
        let props = LineDrillProps {
            drill: props.drill.clone(),
            words: props.words,
            write: props.write,
            back: props.back,
        };
        Callback::from(move |(right, says): (bool, String)| {
            props.drill.on_answer.emit(right);
            said.set(says);
            line.set(draw(&props, &mut chance.borrow_mut()));
            turn.set(*turn + 1);
        })
    };
    let Some(print) = (*line).clone() else { return no_words() };
    let options = Options { contracted: props.drill.contracted, marks: false };
    let cells: Rc<[Cell]> = ueb::transcribe(&print, &options).into();
    html! {
        <div class="drill">
            if props.write {
                <WriteLine key={*turn} print={print} drill={props.drill.clone()} {on_next} />
            } else {
                <ReadLine key={*turn} cells={cells} print={print} contracted={props.drill.contracted} back={props.back} focus=true
                    learner={props.drill.learner.clone()} {on_next} />
            }
            <p role="status" class="before">{ (*said).clone() }</p>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct WriteLineProps {
    print: AttrValue,
    drill: DrillProps,
    on_next: Callback<(bool, String)>,
}

/// One line to write: Enter marks it.
#[component]
fn WriteLine(props: &WriteLineProps) -> Html {
    let written = use_mut_ref(Vec::<Vec<Cell>>::new);
    let since = use_mut_ref(now);
    // How it came out, and when that was recorded.
    let marked = use_held(Option::<(lines::Judged, u64)>::default);
    let mark = {
        let (written, since, marked) = (written.clone(), since.clone(), marked.clone());
        let (print, drill, on_next) = (props.print.clone(), props.drill.clone(), props.on_next.clone());
        move || {
            if marked.is_some() {
                return;
            }
            let judged = lines::judge_written(&print, drill.contracted, &written.borrow());
            let at = now();
            let answers =
                lines::answers(&judged, Direction::Write, at, at.saturating_sub(*since.borrow()), 0);
            drill.learner.add_all(&answers.into_iter().map(Event::Answer).collect::<Vec<_>>());
            if judged.right {
                on_next.emit((true, format!("Right: {print}")));
            } else {
                marked.set(Some((judged, at)));
            }
        }
    };
    let on_change = {
        let (written, mark) = (written.clone(), mark.clone());
        Callback::from(move |new: Written| {
            let lines = new.cells();
            let ended = lines.len() > 1 && !lines[0].is_empty();
            *written.borrow_mut() = lines;
            if ended {
                mark();
            }
        })
    };
    let click = {
        let (mark, marked, on_next, print) =
            (mark.clone(), marked.clone(), props.on_next.clone(), props.print.clone());
        Callback::from(move |_: MouseEvent| {
            if marked.is_some() { on_next.emit((false, format!("It was: {print}"))) } else { mark() }
        })
    };
    let next = super::use_focus(u32::from(marked.is_some()));
    let asked = ueb::transcribe(&props.print, &Options { contracted: props.drill.contracted, marks: false });
    html! {
        <>
            <p class="copy">{ props.print.clone() }</p>
            <BrailleInput reads={false} autofocus=true given={Given::default()} contracted={Some(props.drill.contracted)} {on_change} />
            if let Some((judged, at)) = &*marked {
                <div class="wrong" role="status">
                    <ul>{ for judged.slips.iter().map(|slip| html! { <li>{ &slip.say }</li> }) }</ul>
                    <p>{ "It is written: " }<CellsLine cells={Rc::from(asked.as_slice())} dot={Some(7.0)} /></p>
                </div>
                <button type="button" ref={next} class="main" onclick={click}>{ "Next" }</button>{ " " }
                <AskAfter about={judged.slips.iter().find_map(|slip| slip.ask)} at={*at} />
            } else {
                <button type="button" class="main" onclick={click}>{ "Mark it (Enter)" }</button>
            }
        </>
    }
}
