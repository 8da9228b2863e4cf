//! The check at the desk: of what is written and of a file, done again when a rule is switched; and the notes beside the
//! lines that come of it and of marking.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::manuscript::check::{Asked, Item, Scope, check, with_print_copy};
use crate::manuscript::file::BrailleFile;
use crate::manuscript::{Sheet, work};
use crate::page::browser::held::{Held, use_held};
use crate::page::browser::long_work;
use crate::page::learner::settings::SettingsHandle;
use crate::page::states::course_rules::CourseRules;
use crate::page::states::desk::MarkedLines;
use crate::page::states::margin::{self, MarginNote};
use crate::page::surface::live::{Live, on_writing};
use crate::page::widgets::cells_line::shown;

/// What the check is to look at.
#[derive(Clone, PartialEq)]
pub struct Checking {
    /// The print.
    pub print: AttrValue,
    /// The sheet.
    pub sheet: Sheet,
    /// A piece or a volume.
    pub scope: Scope,
    /// The learner has said that the print copy lies in front.
    pub print_copy: bool,
    /// The rules of the course.
    pub rules: CourseRules,
}

/// What was checked, and what came of it.
#[derive(Clone, PartialEq)]
pub struct Checked {
    file: Rc<BrailleFile>,
    /// Held against the print too.
    against: bool,
    /// The lines of the surface, when it was they that were checked.
    own: Option<Rc<Vec<Vec<Cell>>>>,
    /// The check, item by item.
    pub items: Rc<Vec<Item>>,
    scope: Scope,
}

impl Checked {
    /// The items and what was checked, when what lay on the desk was checked as a whole volume.
    pub fn of_volume(&self) -> Option<(&[Item], &BrailleFile)> {
        (self.own.is_some() && self.scope == Scope::Volume).then_some((&self.items[..], &*self.file))
    }

    fn by(
        asked: &Checking,
        file: Rc<BrailleFile>,
        against: bool,
        own: Option<Rc<Vec<Vec<Cell>>>>,
    ) -> Checked {
        let Checking { print, sheet, scope, print_copy, rules } = asked;
        let print = against.then_some(print.as_str());
        let asked = Asked { scope: *scope, sheet: *sheet, print, print_copy: *print_copy, off: rules.off() };
        let items = Rc::new(check(&file, &asked));
        Checked { file, against, own, items, scope: asked.scope }
    }
}

/// The check, and the ways to it.
pub struct Checks {
    /// What was checked last.
    pub checked: Held<Option<Checked>>,
    /// Checks what is written.
    pub own: Callback<()>,
    /// Checks it as a whole volume, whatever was said of it.
    pub volume: Callback<()>,
    /// Checks a file as it stands, against the print too when asked.
    pub file: Callback<(BrailleFile, bool)>,
    /// The learner says whether the print copy lies in front.
    pub says_of_print_copy: Callback<bool>,
}

/// The check at the desk.
#[hook]
pub fn use_checks(live: &Rc<Live>, asked: Checking) -> Checks {
    let checked = use_held(|| None::<Checked>);
    let of_live = |scope: Scope| {
        let (checked, asked) = (checked.clone(), Checking { scope, ..asked.clone() });
        let of = live.clone();
        let check_all = Callback::from(move |()| {
            let lines = of.now().cells();
            let file = BrailleFile::from_pages(&work::finished(lines.clone(), asked.sheet));
            checked.set(Some(Checked::by(&asked, Rc::new(file), true, Some(Rc::new(lines)))));
        });
        on_writing(live, check_all)
    };
    let (own, volume) = (of_live(asked.scope), of_live(Scope::Volume));
    let file = {
        let (checked, asked) = (checked.clone(), asked.clone());
        Callback::from(move |(file, against)| {
            checked.set(Some(Checked::by(&asked, Rc::new(file), against, None)));
        })
    };
    let says_of_print_copy = {
        let checked = checked.clone();
        Callback::from(move |on| {
            // The confirmation is one item of the check.
            if let Some(old) = &*checked {
                let items = Rc::new(with_print_copy(&old.items, on));
                checked.set(Some(Checked { items, ..old.clone() }));
            }
        })
    };
    {
        let (checked, asked) = (checked.clone(), asked.clone());
        use_effect_with(asked.rules.clone(), move |_| {
            if let Some(Checked { file, against, own, scope, .. }) = (*checked).clone() {
                let asked = Checking { scope, ..asked };
                let cells = file.pages().flatten().map(|line| line.len()).sum();
                long_work::on(cells, move || checked.set(Some(Checked::by(&asked, file, against, own))));
            }
        });
    }
    Checks { checked, own, volume, file, says_of_print_copy }
}

/// What stands beside the lines of the surface.
#[hook]
pub fn use_notes(
    marked: &Option<MarkedLines>,
    checked: &Held<Option<Checked>>,
    sheet: Sheet,
    settings: &SettingsHandle,
) -> Rc<Vec<MarginNote>> {
    let numbers = settings.dot_numbers_only;
    let settings = settings.clone();
    let made = (marked.clone(), checked.clone(), sheet, numbers);
    use_memo(made, move |(marked, checked, sheet, _)| {
        let mut notes = Vec::new();
        if let Some(lines) = marked {
            notes.extend(margin::of_marking(&lines.marked, &lines.print, &lines.lines));
        }
        if let Some(Checked { own: Some(lines), items, .. }) = &**checked {
            notes.extend(margin::of_check(items, sheet.lines, lines, marked.is_some()));
        }
        for note in &mut notes {
            note.why = shown(&note.why, &settings);
            note.meant = shown(&note.meant, &settings);
        }
        notes
    })
}
