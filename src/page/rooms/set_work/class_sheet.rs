//! The class sheet: the result slips of a class as a table. All of it stays on the teacher's computer.

use std::rc::Rc;

use gloo::file::callbacks::{FileReader, read_as_text};
use yew::prelude::*;

use crate::exercise::class::{ClassSheet, Costs, Entry, Row, Taken};
use crate::exercise::{Exercise, Task, told};
use crate::page::browser::saving::{print_sheet, save};
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::shown;
use crate::ueb::register;

/// Where it is kept.
const KEY: &str = "cellwright.class";
/// Links that are pasted and not taken in yet.
const PASTED: &str = "work.slips.pasted";
/// Signs in an exercise on what costs most.
const SIGNS: usize = 8;

/// The sheet as the page has it.
#[derive(Clone, Default, PartialEq)]
struct Class {
    sheet: ClassSheet,
    said: String,
}

/// What a teacher does with it.
enum Act {
    Take(String),
    Call(usize, String),
    Drop(usize),
    Clear,
    Say(String),
}

impl Reducible for Class {
    type Action = Act;
    fn reduce(self: Rc<Self>, act: Act) -> Rc<Self> {
        let mut new = (*self).clone();
        new.said.clear();
        match act {
            Act::Take(text) => {
                let taken = new.sheet.take(&text);
                new.said = said_of(&taken);
            }
            Act::Call(at, name) => new.sheet.call(at, &name),
            Act::Drop(at) => new.sheet.drop(at),
            Act::Clear => new.sheet = ClassSheet::default(),
            Act::Say(what) => new.said = what,
        }
        Rc::new(new)
    }
}

/// What came of taking slips in, in words.
fn said_of(taken: &Taken) -> String {
    let slips = |count: usize| if count == 1 { "1 slip".to_owned() } else { format!("{count} slips") };
    let mut parts = Vec::new();
    if taken.new > 0 {
        parts.push(format!("{} added", slips(taken.new)));
    }
    if taken.doubled > 0 {
        parts.push(format!("{} already on the sheet", slips(taken.doubled)));
    }
    if taken.exercises > 0 {
        let exercises = if taken.exercises == 1 {
            "1 link of an exercise is".to_owned()
        } else {
            format!("{} links of exercises are", taken.exercises)
        };
        parts.push(format!("{exercises} no slip"));
    }
    if !taken.refused.is_empty() {
        parts.push(format!(
            "{} could not be opened: cut short or changed on the way, so ask again for what is missing",
            slips(taken.refused.len())
        ));
    }
    if parts.is_empty() { "There is no slip in this.".to_owned() } else { format!("{}.", parts.join("; ")) }
}

fn time_of(seconds: Option<u32>) -> String {
    seconds.map_or("unknown".to_owned(), |seconds| format!("{} min {:02} s", seconds / 60, seconds % 60))
}

/// By what the rows are sorted.
#[derive(Clone, Copy, PartialEq)]
enum By {
    Who,
    Exercise,
    First,
    Last,
    Time,
}

impl By {
    const ALL: [(By, &'static str); 5] = [
        (By::Who, "Who"),
        (By::Exercise, "Exercise"),
        (By::First, "First try"),
        (By::Last, "Last try"),
        (By::Time, "Time"),
    ];

    fn sort(self, sheet: &ClassSheet, rows: &mut [Row], falling: bool) {
        let share = |score: Option<(u32, u32)>| {
            score.map(|(right, asked)| u64::from(right) * 10_000 / u64::from(asked.max(1)))
        };
        let entry = |at: Option<&usize>| at.map(|at| &sheet.entries()[*at]);
        let time = |row: &Row| {
            row.slips.iter().map(|at| u64::from(sheet.entries()[*at].seconds().unwrap_or(0))).sum::<u64>()
        };
        match self {
            By::Who => rows.sort_by_key(|row| row.who.to_lowercase()),
            By::Exercise => rows.sort_by_key(|row| row.title.to_lowercase()),
            By::First => rows.sort_by_key(|row| share(entry(row.slips.first()).and_then(Entry::first_score))),
            By::Last => rows.sort_by_key(|row| share(entry(row.slips.last()).and_then(Entry::score))),
            By::Time => rows.sort_by_key(time),
        }
        if falling {
            rows.reverse();
        }
    }
}

/// What the class sheet needs.
#[derive(Properties, PartialEq)]
pub struct ClassProps {
    /// Called with an exercise made from the sheet.
    pub on_exercise: Callback<Exercise>,
}

/// The class sheet: `<ClassTable on_exercise=.. />`.
#[component]
pub fn ClassTable(props: &ClassProps) -> Html {
    let class = use_reducer(|| {
        let mut class = Class::default();
        if !class.sheet.take(&store::text(KEY).unwrap_or_default()).refused.is_empty() {
            // Perhaps a later version's: it would go when the sheet is kept again.
            store::read_in_part("class");
        }
        class
    });
    let full = use_state(|| None::<&'static str>);
    {
        let (sheet, full) = (class.sheet.clone(), full.clone());
        use_effect_with(sheet, move |sheet| {
            full.set(store::keep_text(KEY, &sheet.to_text()).err().map(|error| error.words()));
        });
    }
    let empty = class.sheet.entries().is_empty();
    let save_text = {
        let class = class.clone();
        Callback::from(move |_: MouseEvent| save("class-sheet.txt", &class.sheet.to_text()))
    };
    let save_csv = {
        let class = class.clone();
        Callback::from(move |_: MouseEvent| match class.sheet.to_csv() {
            Ok(csv) => save("class-sheet.csv", &csv),
            Err(error) => class.dispatch(Act::Say(format!("The table could not be made: {error}."))),
        })
    };
    let exercise = {
        let (class, on_exercise) = (class.clone(), props.on_exercise.clone());
        Callback::from(move |_: MouseEvent| {
            on_exercise.emit(Exercise {
                title: "What cost us most".to_owned(),
                task: Task::Write,
                signs: class.sheet.dearest_signs(SIGNS),
                ..Exercise::default()
            });
            class.dispatch(Act::Say("The exercise stands above: see it, and copy its link.".to_owned()));
        })
    };
    html! {
        <section class="marked" aria-label="Class sheet">
            <h2>{ "Class sheet" }</h2>
            <p class="note">{ "Put your learners’ result slips here, as links or files, as many at once as you like. Their work is marked again on this computer, and nothing leaves it." }</p>
            <TakeIn on_text={let class = class.clone(); Callback::from(move |text| class.dispatch(Act::Take(text)))} />
            <p role="status" aria-label="Slips taken in">{ &class.said }</p>
            if let Some(why) = *full { <p class="alert" role="alert">{ why }{ " Save the class sheet as a file before you leave." }</p> }
            if !empty {
                <div class="printable" data-sheet="class"><Table class={class.clone()} /></div>
                <Picture sheet={class.sheet.clone()} />
                <div class="controls">
                    if !class.sheet.costs().signs.is_empty() { <button type="button" onclick={exercise}>{ "An exercise on what costs most" }</button> }
                    <button type="button" onclick={save_text}>{ "Save the class sheet" }</button>
                    <button type="button" onclick={save_csv}>{ "Save as a table (CSV)" }</button>
                    <button type="button" onclick={Callback::from(|_: MouseEvent| print_sheet("class"))}>{ "Print the class sheet" }</button>
                    <Clear on_clear={let class = class.clone(); Callback::from(move |()| class.dispatch(Act::Clear))} />
                </div>
            }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct TakeInProps {
    on_text: Callback<String>,
}

/// Slips pasted, chosen or dropped.
#[component]
fn TakeIn(props: &TakeInProps) -> Html {
    let pasted = use_state(|| store::load::<String>(PASTED, 1).unwrap_or_default());
    let readers = use_mut_ref(Vec::<FileReader>::new);
    let read = {
        let (readers, on_text) = (readers, props.on_text.clone());
        Callback::from(move |files: web_sys::FileList| {
            readers.borrow_mut().clear();
            for file in (0..files.length()).filter_map(|at| files.get(at)) {
                let on_text = on_text.clone();
                let blob = gloo::file::Blob::from(gloo::file::File::from(file));
                let reader = read_as_text(&blob, move |text| on_text.emit(text.unwrap_or_default()));
                readers.borrow_mut().push(reader);
            }
        })
    };
    let onchange = {
        let read = read.clone();
        Callback::from(move |event: Event| {
            if let Some(files) = event.target_unchecked_into::<web_sys::HtmlInputElement>().files() {
                read.emit(files);
            }
        })
    };
    let ondrop = Callback::from(move |event: DragEvent| {
        event.prevent_default();
        if let Some(files) = event.data_transfer().and_then(|data| data.files()) {
            read.emit(files);
        }
    });
    let ondragover = Callback::from(|event: DragEvent| event.prevent_default());
    let oninput = {
        let pasted = pasted.clone();
        Callback::from(move |event: InputEvent| {
            let text = event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value();
            // What the browser does not take is held, and the page says so.
            let _ = store::save(PASTED, 1, &text);
            pasted.set(text);
        })
    };
    let take = {
        let (pasted, on_text) = (pasted.clone(), props.on_text.clone());
        Callback::from(move |_: MouseEvent| {
            on_text.emit((*pasted).clone());
            // What could not be opened stays, to be mended.
            let left = ClassSheet::not_taken(&pasted);
            if left.is_empty() {
                store::forget(PASTED);
            } else {
                let _ = store::save(PASTED, 1, &left);
            }
            pasted.set(left);
        })
    };
    html! {
        <div {ondrop} {ondragover}>
            <p><label>{ "Links of result slips" }<textarea rows="3" value={(*pasted).clone()} {oninput} /></label></p>
            <div class="controls">
                <button type="button" onclick={take}>{ "Add the slips" }</button>
                <label>{ "Slip files, or a saved class sheet " }<input type="file" multiple=true accept=".txt,text/plain" {onchange} /></label>
            </div>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct TableProps {
    class: UseReducerHandle<Class>,
}

/// The rows, sorted as chosen.
#[component]
fn Table(props: &TableProps) -> Html {
    let order = use_state(|| (By::Who, false));
    let sheet = &props.class.sheet;
    let mut rows = sheet.rows();
    order.0.sort(sheet, &mut rows, order.1);
    let head = By::ALL.into_iter().map(|(by, name)| {
        let here = order.0 == by;
        let sorted = here.then_some(if order.1 { "descending" } else { "ascending" });
        let onclick = {
            let order = order.clone();
            Callback::from(move |_: MouseEvent| order.set((by, here && !order.1)))
        };
        html! { <th scope="col" aria-sort={sorted}><button type="button" class="quiet" {onclick}>{ name }{ sorted.map(|way| if way == "ascending" { " ▴" } else { " ▾" }) }</button></th> }
    });
    html! {
        <div class="scroll">
        <table aria-label="Class sheet">
            <thead><tr>{ for head }<th scope="col">{ "Mistakes in the last" }</th><th scope="col">{ "Slips" }</th></tr></thead>
            <tbody>{ for rows.iter().map(|row| html! { <SheetRow key={row.slips.first().map_or(String::new(), |at| format!("{} {:?}", sheet.entries()[*at].payload, sheet.entries()[*at].part))} class={props.class.clone()} row={row.clone()} /> }) }</tbody>
        </table>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct RowProps {
    class: UseReducerHandle<Class>,
    row: Row,
}

/// One learner's work on one exercise, with its slips to open.
#[component]
fn SheetRow(props: &RowProps) -> Html {
    let settings = use_settings();
    let entries = props.class.sheet.entries();
    let row = &props.row;
    let Some((first, last)) =
        row.slips.first().zip(row.slips.last()).and_then(|(a, b)| entries.get(*a).zip(entries.get(*b)))
    else {
        return html! {};
    };
    let score = |entry: &Entry, score: Option<(u32, u32)>| {
        let says = score.map_or("not handed in".to_owned(), |(right, asked)| format!("{right} of {asked}"));
        html! { <a href={format!("#/r/{}", entry.payload)}>{ says }</a> }
    };
    let tries: usize = row.slips.iter().map(|at| entries[*at].slip.tries().len()).sum();
    let seconds: Option<u32> = row.slips.iter().map(|at| entries[*at].seconds()).sum();
    let mistakes: Vec<String> =
        last.kinds().iter().map(|(kind, times)| format!("{} {times}", kind.words())).collect();
    let who = if row.who.is_empty() { "no name".to_owned() } else { shown(&row.who, &settings) };
    let title = if row.title.is_empty() { row.task.words().to_owned() } else { shown(&row.title, &settings) };
    let slips = format!(
        "{} of {who}",
        if row.slips.len() == 1 { "1 slip".to_owned() } else { format!("{} slips", row.slips.len()) }
    );
    html! {
        <tr>
            <th scope="row">{ &who }</th>
            <td>{ title }</td>
            <td>{ score(first, first.first_score()) }</td>
            <td>{ if tries > 1 { score(last, last.score()) } else { html! { "–" } } }</td>
            <td>{ time_of(seconds) }</td>
            <td>{ if mistakes.is_empty() { "none".to_owned() } else { mistakes.join(", ") } }
                if row.slips.iter().any(|at| entries[*at].differs()) { <strong>{ " The slip says otherwise." }</strong> }</td>
            <td><details><summary>{ slips }</summary>
                { for row.slips.iter().map(|at| slip_line(&props.class, *at)) }
            </details></td>
        </tr>
    }
}

/// One slip: its day, what it says and what it comes to here, its name, and taking it off.
fn slip_line(class: &UseReducerHandle<Class>, at: usize) -> Html {
    let Some(entry) = class.sheet.entries().get(at) else { return html! {} };
    let says = entry.slip.tries().into_iter().zip(&entry.anew).enumerate().map(|(at, (one, anew))| {
        let says = told::of_try(&entry.slip, &one, anew.as_ref());
        if entry.anew.len() > 1 { format!("{}: {says} ", told::try_name(&entry.slip, at)) } else { says }
    });
    let what = if entry.anew.is_empty() { "Nothing was handed in.".to_owned() } else { says.collect() };
    let day = if entry.slip.day.is_empty() { "no day".to_owned() } else { entry.slip.day.clone() };
    let onchange = {
        let class = class.clone();
        Callback::from(move |event: Event| {
            class.dispatch(Act::Call(at, event.target_unchecked_into::<web_sys::HtmlInputElement>().value()));
        })
    };
    let off = {
        let class = class.clone();
        Callback::from(move |_: MouseEvent| class.dispatch(Act::Drop(at)))
    };
    html! {
        <p key={format!("{} {:?}", entry.payload, entry.part)}>
            <a href={format!("#/r/{}", entry.payload)}>{ format!("Slip of {day}") }</a>{ ": " }{ what }
            <label>{ format!(" Name for the slip of {day} ") }<input type="text" value={entry.who().to_owned()} {onchange} /></label>
            <button type="button" class="quiet" onclick={off}>{ format!("Take the slip of {day} off the sheet") }</button>
        </p>
    }
}

#[derive(Properties, PartialEq)]
struct PictureProps {
    sheet: ClassSheet,
}

/// What cost the class most.
#[component]
fn Picture(props: &PictureProps) -> Html {
    let Costs { kinds, signs } = props.sheet.costs();
    let sign = |key: &'static str| {
        register::by_key(key).map_or(key.to_owned(), |sign| match sign.print {
            "" => sign.name.to_owned(),
            print => format!("{print} ({})", sign.class.name()),
        })
    };
    let list = |name: &'static str, items: Vec<(String, u32)>| {
        html! {
            <div>
                <h3>{ name }</h3>
                <ol>{ for items.into_iter().take(SIGNS).map(|(what, times)| html! { <li>{ format!("{what}: {times}") }</li> }) }</ol>
            </div>
        }
    };
    if kinds.is_empty() {
        return html! { <p>{ "No mistake stands in the work that can be marked here." }</p> };
    }
    html! {
        <div class="two-up">
            { list("Mistakes that cost the class most", kinds.into_iter().map(|(kind, times)| (kind.words().to_owned(), times)).collect()) }
            { list("Signs at fault", signs.into_iter().map(|(key, times)| (sign(key), times)).collect()) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct ClearProps {
    on_clear: Callback<()>,
}

/// Puts the sheet away, after asking.
#[component]
fn Clear(props: &ClearProps) -> Html {
    let asked = use_state(bool::default);
    let ask = |on: bool| {
        let asked = asked.clone();
        Callback::from(move |_: MouseEvent| asked.set(on))
    };
    let yes = {
        let (asked, on_clear) = (asked.clone(), props.on_clear.clone());
        Callback::from(move |_: MouseEvent| {
            asked.set(false);
            on_clear.emit(());
        })
    };
    if *asked {
        html! {
            <span role="group" aria-label="Empty the class sheet">
                { "All its slips go from this computer. " }
                <button type="button" onclick={yes}>{ "Empty it" }</button>
                <button type="button" class="quiet" onclick={ask(false)}>{ "Keep it" }</button>
            </span>
        }
    } else {
        html! { <button type="button" class="quiet" onclick={ask(true)}>{ "Empty the class sheet" }</button> }
    }
}
