//! The room "Transcribe": the print line by line above the writing, marks at the cell, and the check before hand-in.

pub mod check_panel;
pub mod copyholder;
pub mod course_rules;
pub mod desk_checks;
pub mod desk_files;
pub mod desk_state;
pub mod own_slips;
pub mod trial_manuscript;

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::trial::Attempt;
use crate::exercise::{Anew, Exercise, Slip, Try};
use crate::manuscript::check::Scope;
use crate::manuscript::file::BrailleFile;
use crate::manuscript::tour::{self, Habit, Stop};
use crate::manuscript::work;
use crate::manuscript::{Sheet, copy, volumes};
use crate::marking::cause::Booked;
use crate::page::browser::held::use_held;
use crate::page::browser::open_file::DropArea;
use crate::page::browser::store;
use crate::page::browser::undo_key::use_undo_key;
use crate::page::learner::journal::use_learner;
use crate::page::learner::rehearsal::use_name;
use crate::page::learner::settings::use_settings;
use crate::page::marked::findings::{Findings, Outcome, line_marks};
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::use_progress_of;
use crate::page::marked::trial_result::TrialResult;
use crate::page::rooms::transcribe::check_panel::CheckPanel;
use crate::page::rooms::transcribe::copyholder::Copyholder;
use crate::page::rooms::transcribe::course_rules::use_course_rules;
use crate::page::rooms::transcribe::desk_checks::{Checking, use_checks, use_notes};
use crate::page::rooms::transcribe::desk_files::DeskFiles;
use crate::page::rooms::transcribe::desk_state::{Came, Kept, NOTICE, held_against, remember};
use crate::page::rooms::transcribe::own_slips::{OwnSlips, Tour};
use crate::page::rooms::transcribe::trial_manuscript::TrialDesk;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::live::{Live, on_writing, use_row};
use crate::page::surface::reads_as::ReadsAs;
use crate::page::surface::work as work_kept;
use crate::page::surface::work::KeptWork;
use crate::page::surface::writing_settings::WritingSettings;
use crate::page::surface::written::{Given, Go, Written};
use crate::page::widgets::bring_back::BringBack;
use crate::page::widgets::switch::{Switch, numbers_only};
use crate::page::widgets::why::Why;
use crate::writing::Place;

const VERSION: u32 = 1;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Transcribe" }</h1>
            <Desk />
        </>
    }
}

/// What lies on the desk.
#[derive(Properties, PartialEq, Default)]
pub struct DeskProps {
    /// A set exercise; the learner's own work stays as it is.
    #[prop_or_default]
    pub set: Option<Rc<Exercise>>,
}

/// The copyholder, the writing, the marks, the check and the files.
#[component]
pub fn Desk(props: &DeskProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let set = props.set.clone();
    // The learner's own desk and each exercise keep their work apart.
    let whole_name = use_memo(set.clone(), |set| match set {
        None => "work.transcribe.own".to_owned(),
        Some(set) => work_kept::name_of("transcribe", &set.identity()),
    });
    let name = Rc::new(use_name(|| (*whole_name).clone()));
    let progress = use_progress_of(&set);
    let kept = {
        let (name, set) = (name.clone(), set.clone());
        use_memo((), move |()| {
            let kept = if name.is_empty() { None } else { store::load_any(&format!("{name}.desk"), VERSION) };
            kept.unwrap_or_else(|| Kept {
                print: set.map_or_else(|| NOTICE.to_owned(), |set| set.text.clone()),
                ..Kept::default()
            })
        })
    };
    let sheet_size = use_held(|| (kept.cells, kept.rows));
    let written_for = use_held(|| kept.written_for.unwrap_or((kept.cells, kept.rows)));
    let contracted = set.as_ref().map_or(settings.contracted, |set| set.contracted);
    let edition = settings.edition();
    let (rules, on_rule) = use_course_rules();
    let sheet = match &set {
        Some(set) => set.sheet(),
        None => Sheet {
            contracted,
            edition,
            cells: sheet_size.0,
            lines: sheet_size.1,
            profile: rules.profile(),
            ..Sheet::default()
        }
        .bounded(),
    };
    let help = set.as_ref().is_none_or(|set| set.help);
    let trial = set.as_ref().and_then(|set| set.trial);
    let given = use_held(|| work_kept::given(0, work_kept::load(&name)));
    let handed_in = progress.finished;
    // An exercise that was handed in before the page was left is marked as it was then.
    let back =
        use_memo((), |()| handed_in.then(|| held_against(&kept.print, &given.lines, sheet, set.as_ref()).1));
    let attempts = {
        let set = set.clone();
        use_memo(progress.tries.clone(), move |tries| {
            let attempt = |one: &Try| Anew::of(set.as_deref()?, None, &one.work, one.helped)?.attempt;
            tries.iter().filter_map(attempt).collect::<Vec<Attempt>>()
        })
    };
    {
        // Handed in when tries were kept without their work.
        let (progress, given, kept) = (progress.clone(), given.clone(), kept.clone());
        use_effect_with((), move |()| {
            if !kept.tries.is_empty() && progress.tries.is_empty() {
                let work = BrailleFile::from_pages(&work::pages(&given.lines, sheet)).to_text();
                progress.hand_in_of(None, work, kept.seconds, kept.helped, true);
            }
        });
    }
    let back = || (*back).clone();

    let print = use_held(|| AttrValue::from(kept.print.clone()));
    // The copy that another was put in the place of just now.
    let copy_before = use_held(Option::<AttrValue>::default);
    let bell = use_held(|| kept.bell);
    // Followed key by key by those parts that show it; the desk itself is drawn again only when there is reason to.
    let live = use_memo((), |()| Live::default());
    let empty = use_held(|| true);
    let turned = use_held(|| 0isize);
    let marked = use_held(back);
    let open = use_held(Option::<usize>::default);
    let goal = use_held(Go::default);
    let marks = use_held(|| back().map_or_else(Rc::default, |came| Rc::new(line_marks(&came.marked))));
    let stale = use_held(bool::default);
    let volume = use_held(|| kept.volume);
    let print_copy = use_held(bool::default);
    let touring = use_held(Option::<(Rc<Vec<Stop>>, Rc<Vec<Habit>>)>::default);
    let refused = use_held(Option::<String>::default);
    let reading = use_held(bool::default);
    let helped = use_held(|| kept.helped);
    let answer = use_held(bool::default);

    let row = use_row(&live);
    {
        let name = name.clone();
        let kept = Kept {
            print: print.to_string(),
            cells: sheet_size.0,
            rows: sheet_size.1,
            written_for: Some(*written_for).filter(|size| *size != *sheet_size),
            bell: *bell,
            seconds: 0,
            volume: *volume,
            helped: *helped,
            tries: Vec::new(),
        };
        use_effect_with((kept, row), move |(kept, _)| {
            if !name.is_empty() {
                // What the browser does not take is held, and the page says so.
                let _ = store::save_any(&format!("{name}.desk"), VERSION, kept);
            }
        });
    }

    let copy = use_memo(((*print).clone(), sheet), |(print, sheet)| copy::of_book(print, *sheet));
    let at = copyholder::use_following(&copy, &live, sheet)
        .saturating_add_signed(*turned)
        .min(copy.len().saturating_sub(1));
    {
        let turned = turned.clone();
        use_effect_with(row, move |_| turned.set(0));
    }
    let on_change = {
        let (live, stale, empty) = (live.clone(), stale.clone(), empty.clone());
        let copy_before = copy_before.clone();
        use_callback((), move |new: Written, ()| {
            if live.tell(&new) {
                copy_before.set(None);
                stale.set(true);
                empty.set(new.is_empty());
            }
        })
    };
    let on_turn = {
        let turned = turned.clone();
        Callback::from(move |by: isize| turned.set(*turned + by))
    };
    let live_now = live.clone();
    let mark = {
        let open = open.clone();
        let (live, print, marked, marks, stale) =
            (live.clone(), (*print).clone(), marked.clone(), marks.clone(), stale.clone());
        let (learner, set, progress) = (learner.clone(), set.clone(), progress.clone());
        let helped = *helped;
        let mark = Callback::from(move |()| {
            let cells = live.now().cells();
            let (work, came) = held_against(&print, &cells, sheet, set.as_ref());
            remember(&learner, &work, marked.is_none(), came.at);
            marks.set(Rc::new(line_marks(&came.marked)));
            open.set(None);
            stale.set(false);
            if let Some(set) = &set {
                let text = BrailleFile::from_pages(&work::pages(&cells, sheet)).to_text();
                // Without a mistake there is nothing to try again.
                let last = set.trial.is_none() || progress.left().is_some_and(|left| left <= 1);
                progress.hand_in(None, text, helped, last || work.marked.summary.errors == 0);
            }
            marked.set(Some(came));
        });
        on_writing(&live_now, mark).reform(|_: MouseEvent| ())
    };
    let checks = use_checks(
        &live,
        Checking {
            print: (*print).clone(),
            sheet,
            scope: if *volume { Scope::Volume } else { Scope::Piece },
            print_copy: *print_copy,
            rules: rules.clone(),
        },
    );
    let check_volume = {
        let (check, volume) = (checks.volume.clone(), volume.clone());
        Callback::from(move |()| {
            volume.set(true);
            check.emit(());
        })
    };
    let notes = use_notes(&marked, &checks.checked, sheet, &settings);
    let tour_now = {
        let (live, print, touring, learner) =
            (live.clone(), (*print).clone(), touring.clone(), learner.clone());
        let begin = Callback::from(move |()| {
            let habits = own_slips::habits(&learner);
            let pages = work::pages(&live.now().cells(), sheet);
            let stops = tour::stops_of_book(&print, &pages, sheet, &habits);
            touring.set(Some((Rc::new(stops), Rc::new(habits))));
        });
        on_writing(&live_now, begin).reform(|_: MouseEvent| ())
    };
    let go = |focus: bool| {
        let goal = goal.clone();
        Callback::from(move |(page, line, cell): (usize, usize, usize)| {
            let place = Place { line: page * sheet.lines + line, cell };
            goal.set(Go { version: goal.version + 1, place, focus });
        })
    };
    let on_open = {
        let (open, goal, marked) = (open.clone(), goal.clone(), marked.clone());
        Callback::from(move |at: Option<usize>| {
            open.set(at);
            let found = marked.as_ref().and_then(|came| came.marked.findings.get(at?));
            if let Some(finding) = found {
                let place = Place { line: finding.written.line, cell: finding.written.from };
                goal.set(Go { version: goal.version + 1, place, focus: false });
            }
        })
    };
    let on_book = {
        let marked = marked.clone();
        Callback::from(move |booked: Booked| {
            let Some(came) = marked.as_ref() else { return };
            let mut new = (*came.marked).clone();
            new.summary.book(booked);
            marked.set(Some(Came { marked: Rc::new(new), ..came.clone() }));
        })
    };
    // The sheets that what was set aside was written for, the last on top.
    let sizes = use_mut_ref(Vec::<(usize, usize)>::new);
    let on_brought_back = {
        let (written_for, sizes) = (written_for.clone(), sizes.clone());
        Callback::from(move |()| {
            if let Some(size) = sizes.borrow_mut().pop() {
                written_for.set(size);
            }
        })
    };
    let put = {
        let (given, marked, marks, refused, checked) =
            (given.clone(), marked.clone(), marks.clone(), refused.clone(), checks.checked.clone());
        let (written_for, size, sizes, live) =
            (written_for.clone(), *sheet_size, sizes.clone(), live.clone());
        Callback::from(move |lines: Vec<Vec<Cell>>| {
            // An empty sheet is not set aside.
            if !live.now().is_empty() {
                sizes.borrow_mut().push(*written_for);
            }
            written_for.set(size);
            marked.set(None);
            marks.set(Rc::default());
            checked.set(None);
            refused.set(None);
            given.set(Given { version: given.version + 1, lines: Rc::new(lines), over: true });
        })
    };
    let again = {
        let (put, progress, helped) = (put.clone(), progress.clone(), helped.clone());
        Callback::from(move |_: MouseEvent| {
            put.emit(Vec::new());
            progress.again();
            helped.set(false);
        })
    };
    let leave_it = {
        let (live, print, marked, marks) = (live.clone(), (*print).clone(), marked.clone(), marks.clone());
        let (set, progress) = (set.clone(), progress.clone());
        Callback::from(move |_: MouseEvent| {
            // What was handed in, whatever was written since.
            let work = progress.tries.last().map(|last| BrailleFile::from_text(&last.work).cells());
            let lines =
                work.map_or_else(|| live.now().cells(), |pages| pages.into_iter().flatten().collect());
            let came = held_against(&print, &lines, sheet, set.as_ref()).1;
            marks.set(Rc::new(line_marks(&came.marked)));
            marked.set(Some(came));
            progress.finish();
        })
    };
    let refuse = {
        let refused = refused.clone();
        Callback::from(move |why: String| refused.set(Some(why)))
    };
    let set_print = {
        let (print, marked, marks, checked) =
            (print.clone(), marked.clone(), marks.clone(), checks.checked.clone());
        let copy_before = copy_before.clone();
        Callback::from(move |text: AttrValue| {
            marked.set(None);
            marks.set(Rc::default());
            checked.set(None);
            copy_before.set(None);
            print.set(text);
        })
    };
    // Another copy in the place of this one, at once: the one before can be brought back until something is changed.
    let lay_print = {
        let (set_print, print, copy_before) = (set_print.clone(), (*print).clone(), copy_before.clone());
        Callback::from(move |text: AttrValue| {
            set_print.emit(text);
            copy_before.set(Some(print.clone()));
        })
    };
    let bring_copy_back = copy_before.as_ref().map(|before| {
        let (set_print, before) = (set_print.clone(), before.clone());
        Callback::from(move |()| set_print.emit(before.clone()))
    });
    use_undo_key(bring_copy_back.clone());
    // An exercise brings its own print: nothing is taken in its place.
    let dropped = match set {
        None => desk_files::dropped(sheet, put.clone(), lay_print.clone(), refuse.clone()),
        Some(_) => Callback::noop(),
    };
    let set_bell = {
        let bell = bell.clone();
        Callback::from(move |on| bell.set(on))
    };
    let set_reading = {
        let (reading, helped) = (reading.clone(), helped.clone());
        Callback::from(move |on| {
            reading.set(on);
            helped.set(true);
        })
    };
    let set_size = {
        let (size, written_for, live) = (sheet_size.clone(), written_for.clone(), live.clone());
        Callback::from(move |to| {
            size.set(to);
            if live.now().is_empty() {
                written_for.set(to);
            }
        })
    };
    let set_volume = {
        let volume = volume.clone();
        Callback::from(move |on| volume.set(on))
    };
    let set_copy = {
        let (print_copy, says) = (print_copy.clone(), checks.says_of_print_copy.clone());
        Callback::from(move |on| {
            print_copy.set(on);
            says.emit(on);
        })
    };
    let end_tour = {
        let touring = touring.clone();
        Callback::from(move |()| touring.set(None))
    };
    let toggle_answer = {
        let (answer, helped) = (answer.clone(), helped.clone());
        Callback::from(move |_: MouseEvent| {
            answer.set(!*answer);
            helped.set(true);
        })
    };
    let titles = use_memo(((*print).clone(), sheet, *volume), |(print, sheet, volume)| {
        let book = volume.then(|| volumes::Book::from_print(print, *sheet));
        book.map(|book| book.volumes().iter().map(|one| one.title_lines()).collect::<Vec<_>>())
            .unwrap_or_default()
    });
    let told = use_memo(((*print).clone(), sheet), |(print, sheet)| volumes::told(print, *sheet));
    let may_answer = set.as_ref().is_some_and(|set| set.answers);
    let answer_line = copy.get(at).filter(|_| *answer && may_answer).map(|line| {
        Rc::<[Cell]>::from(crate::ueb::transcribe(
            &line.print(),
            &crate::ueb::Options { contracted, marks: false, edition },
        ))
    });
    let over = copy
        .get(at)
        .map(|line| html! { { for line.runs.iter().map(|run| copyholder::run(run, &settings)) } });
    let meant = {
        let line = copy.get(at).map(|line| line.print()).unwrap_or_default();
        use_callback((line, contracted), |(), (line, contracted)| {
            crate::ueb::transcribe(
                line,
                &crate::ueb::Options { contracted: *contracted, ..Default::default() },
            )
            .into()
        })
    };
    let shown_reading = help && *reading;
    let tries_left = trial.and(progress.left());
    let first_of_trial = trial.is_some() && !handed_in;

    html! {
        <DropArea class="desk" open={dropped} refuse={refuse.clone()}>
            <Copyholder copy={copy.clone()} {at} live={live.clone()} {sheet} bell={*bell} {on_turn} />
            <BrailleInput given={(*given).clone()} {on_change} contracted={Some(contracted)} read_only={handed_in} go={*goal}
                sheet=true copy={over} asks="copy-line" {meant} {on_brought_back}
                marks={if first_of_trial { Rc::default() } else { (*marks).clone() }} reads={shown_reading}
                notes={if first_of_trial { Rc::default() } else { notes }} />
            <div class="controls under">
                if handed_in {
                    if !progress.used_up() { <button key="anew" type="button" class="quiet" data-undoes="" onclick={again}>{ "Write it anew" }</button> }
                } else {
                    <button key="mark" type="button" class="main" onclick={mark} disabled={*empty}>{ match (&set, tries_left) {
                        (None, _) => "Mark my work".to_owned(),
                        (Some(_), None) => "Hand in".to_owned(),
                        (Some(_), Some(1)) if !progress.tries.is_empty() => "Hand in, the last try".to_owned(),
                        (Some(_), Some(_)) => "Hand in".to_owned(),
                    } }</button>
                    if first_of_trial && !progress.tries.is_empty() {
                        <button type="button" class="quiet" onclick={leave_it}>{ "Leave it at this try" }</button>
                    }
                }
                if set.is_none() {
                    <button type="button" onclick={checks.own.reform(|_: MouseEvent| ())} disabled={*empty}>{ "Check before hand-in" }</button>
                    <button type="button" class="quiet" onclick={tour_now} disabled={*empty}>{ "Tour of my slips" }</button>
                }
                { numbers_only(&settings) }
                <Switch label="Ring the bell" on={*bell} set={set_bell} />
                if help { <Switch label="Show what it reads as" on={*reading} set={set_reading} /> }
                if may_answer { <button type="button" class="quiet" onclick={toggle_answer}>{ "The answer to this line" }</button> }
            </div>
            if let Some(cells) = answer_line { <p class="answer"><crate::page::widgets::cells_line::CellsLine {cells} /></p> }
            <BringBack what="The copy before is set aside. " back={bring_copy_back} />
            if let Some(say) = refused.as_ref() { <p class="alert" role="alert">{ say }</p> }
            <KeptWork live={live.clone()} name={name.to_string()} version={given.version} />
            if let Some((stops, habits)) = &*touring { <Tour stops={stops.clone()} habits={habits.clone()} go={go(false)} end={end_tour} /> }
            if let Some(trial) = trial { if !attempts.is_empty() { <TrialResult {trial} tries={(*attempts).clone()} finished={handed_in} /> } }
            <Outcome marked={marked.as_ref().as_ref().filter(|_| !first_of_trial).map(|came| came.marked.clone())} />
            if let Some(came) = &*marked {
                if !first_of_trial {
                    if *stale && !handed_in { <p class="note">{ "You have written on since this was marked. Mark again to see what is left." }</p> }
                    <Findings print={came.print.clone()} lines={came.lines.clone()} marked={came.marked.clone()} page={Some(sheet.lines)}
                        open={*open} {on_open} on_book={Some(on_book)} kept_at={Some(came.at)} />
                }
            }
            if let Some(line) = copy.get(at).filter(|_| (marked.is_some() && !first_of_trial) || may_answer) {
                <details>
                    <summary>{ "Every sign of this line of the copy, and why" }</summary>
                    <Why print={line.print()} {contracted} />
                </details>
            }
            if let Some(set) = set.as_ref().filter(|_| !first_of_trial && !progress.tries.is_empty() && !progress.in_set()) {
                <HandIn slip={Slip::of(set, &progress.tries, None)} name={progress.name().to_owned()} />
            }
            if let Some(checked) = checks.checked.as_ref() {
                <CheckPanel items={checked.items.clone()} {titles} print_copy={*print_copy} set_print_copy={set_copy}
                    {rules} on_rule={on_rule} go={go(true).reform(|(page, line)| (page, line, 0))} />
            }
            if shown_reading { <ReadsAs live={live.clone()} follows=true /> }
            if set.is_none() {
                <TrialDesk live={live.clone()} {sheet} print={(*print).clone()} checked={(*checks.checked).clone()} check={check_volume} />
                <DeskFiles live={live.clone()} {sheet} print={(*print).clone()} {told} {set_print} {lay_print} {put} {refuse} check_file={checks.file.clone()}
                    size={*sheet_size} {set_size} written_for={*written_for}
                    volume={*volume} {set_volume} />
                <OwnSlips learner={learner.clone()} />
            }
            <WritingSettings />
        </DropArea>
    }
}
