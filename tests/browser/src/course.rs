//! The room Course: its units, their lessons, find my place; what Signs finds first; a goal in the Record.

use cellwright::cell::Cell;
use cellwright::practice::{drill, units};
use cellwright::ueb::register;

use crate::browser::{Outcome, Session, ensure};

/// All units at a glance; a lesson opens, its example is walked through by keys, and the way back is the browser's own.
pub async fn a_unit_opens_to_its_lesson(session: Session) -> Outcome {
    session.open("").await?;
    let first = "return document.querySelector('nav[aria-label=Rooms] a')?.textContent === 'Course'";
    session.until("Course as the first room", first).await?;
    session.find("link", "Course").await?.click().await?;
    session
        .until("thirty units", "return document.querySelectorAll('.course-units li').length === 30")
        .await?;
    let high = session.script("return document.documentElement.scrollHeight / innerHeight").await?;
    ensure(high.as_f64().is_some_and(|screens| screens < 4.0), || {
        format!("the course is {high} screens long")
    })?;
    let open = "const at = [...document.querySelectorAll('.course-units a')].find((one) => one.textContent.includes('the lower words')); at.click()";
    session.script(open).await?;
    session.find("heading", "Unit 10: in, en, and the lower words").await?;
    // The Rules of UEB, 10.5.1: marks with lower dots only bar the four words.
    let rules = session.script("return document.querySelector('.rules').textContent").await?;
    let rules = rules.as_str().unwrap_or_default();
    ensure(rules.contains("lower dots only") && rules.contains("10.5.1"), || rules.to_owned())?;
    let signs = session.script("return document.querySelectorAll('.lesson-signs li').length").await?;
    ensure(signs == 8, || format!("{signs} signs"))?;

    session.find("button", "Walk through it: to be").await?.click().await?;
    let cell =
        |n: u32| format!("return document.querySelector('.walk .note')?.textContent === 'Cell {n} of 3'");
    session.until("its first cell", &cell(1)).await?;
    let right = '\u{e014}';
    session.press(right).await?;
    session.press(right).await?;
    session.until("its last cell", &cell(3)).await?;
    let told = session.script("return document.querySelector('.walk dl').textContent").await?;
    let told = told.as_str().unwrap_or_default();
    ensure(
        told.contains("A blank cell.") && told.contains("it ends the line") && told.contains("10.5.1"),
        || format!("of be it says {told}"),
    )?;
    session
        .until(
            "lines to write",
            "return document.querySelectorAll('.lesson a[href*=\"#/write?copy=\"]').length > 1",
        )
        .await?;
    session
        .until("texts to read", "return !!document.querySelector('.lesson a[href*=\"#/read?text=\"]')")
        .await?;
    let starts = session.script("return [...document.querySelectorAll('.lesson a')].find((one) => one.textContent === 'Start here').getAttribute('href')").await?;
    ensure(starts == "#/session?unit=lower-words", || format!("Start here leads to {starts}"))?;
    session.client.back().await?;
    session.find("heading", "Course").await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// Who knows six units and nothing of the others is found there, within one unit, and the course remembers it.
pub async fn find_my_place_lands_where_one_is(session: Session) -> Outcome {
    session.open("#/course?find=place").await?;
    let mut asked = 0;
    loop {
        session
            .until(
                "a sign or the place",
                "return !!document.querySelector('.asked .cells, .large[role=status]')",
            )
            .await?;
        if session.script("return !!document.querySelector('.large[role=status]')").await? == true {
            break;
        }
        asked += 1;
        ensure(asked <= 40, || "more than forty signs are asked".to_owned())?;
        let shown = session.script("return [document.querySelector('.asked .cells .sr').textContent, document.querySelector('.drill .note').textContent]").await?;
        let cells: Vec<Cell> =
            shown[0].as_str().unwrap_or_default().chars().filter_map(Cell::from_unicode).collect();
        let taken = shown[1].as_str().unwrap_or_default().to_owned();
        let known = register::by_cells(&cells).find(|sign| {
            taken.ends_with(drill::taken_as(sign.class))
                && units::unit_of(sign.key).is_some_and(|unit| unit < 6)
        });
        match known {
            Some(sign) => {
                let field = session.find("textbox", "It means").await?;
                // Enter on an empty field does nothing.
                session.press('\u{e007}').await?;
                field.send_keys(if sign.print.is_empty() { sign.name } else { sign.print }).await?;
                session.press('\u{e007}').await?;
            }
            None => session.find("button", "I don’t know").await?.click().await?,
        }
        let next = format!(
            "return document.querySelector('.large[role=status]') || !document.querySelector('.drill .note').textContent.startsWith('Sign {asked},')"
        );
        session.until("the next sign", &format!("return !!(() => {{ {next} }})()")).await?;
    }
    let found = session.script("return document.querySelector('.large[role=status]').textContent").await?;
    let found = found.as_str().unwrap_or_default();
    let near = (6..=8).any(|unit| found.starts_with(&format!("You begin in unit {unit}:")));
    ensure(near, || format!("after {asked} signs it says {found}"))?;
    session.open("#/course").await?;
    session
        .until(
            "the place among the units",
            "return !!document.querySelector('.course-units li[aria-current=step]')",
        )
        .await?;
    let here = session
        .script(
            "return document.querySelector('.course-units li[aria-current=step] .unit-number').textContent",
        )
        .await?;
    ensure(found.contains(&format!("unit {}:", here.as_str().unwrap_or_default())), || {
        format!("{here}: {found}")
    })
}

/// What is looked for stands first; a sign's details follow its tile; ticking moves nothing.
pub async fn the_chart_finds_the_sign_first(session: Session) -> Outcome {
    session.open("#/record").await?;
    session.script("scrollTo(0, 400)").await?;
    session.find("link", "Signs").await?.click().await?;
    session.until("the chart", "return document.querySelectorAll('.chart .tile').length > 60").await?;
    let top = session.script("return scrollY").await?;
    ensure(top == 0, || format!("the room opens at {top}"))?;
    for (looked_for, means) in [("th", "th"), ("er", "er"), ("slash", "/"), ("in", "in")] {
        let search = session.find("searchbox", "Find by print, name or dot numbers").await?;
        search.clear().await?;
        search.send_keys(looked_for).await?;
        let first =
            format!("return document.querySelector('.chart .tile .means')?.textContent === {means:?}");
        session.until(&format!("{means} first for {looked_for}"), &first).await?;
    }
    for numbers in ["dots 4-6", "4-6"] {
        let search = session.find("searchbox", "Find by print, name or dot numbers").await?;
        search.clear().await?;
        search.send_keys(numbers).await?;
        let first = "return document.querySelector('.charts .cells .sr')?.textContent === '⠨'";
        session.until("the cell of dots 4-6 first", first).await?;
    }
    let search = session.find("searchbox", "Find by print, name or dot numbers").await?;
    search.clear().await?;
    search.send_keys("his").await?;
    // His, the question mark and the opening quotation mark are one cell (dots 2-3-6).
    session
        .until("his", "return document.querySelector('.chart .tile .means')?.textContent === 'his'")
        .await?;
    session.script("document.querySelector('.chart .tile button').click()").await?;
    session
        .until(
            "the details after the tile",
            "return document.querySelector('.chart .tile').nextElementSibling?.matches('.detail')",
        )
        .await?;
    // As a person does it: the driver's own way to clear a field tells the page nothing.
    search.send_keys("\u{e003}\u{e003}\u{e003}").await?;
    session.until("the chart again", "return document.querySelectorAll('.chart .tile').length > 60").await?;
    let together = "const at = [...document.querySelectorAll('.chart .tile')].find((one) => [...one.querySelectorAll('.means')].some((means) => means.textContent === 'his'));
        return [...at.querySelectorAll('.means')].map((one) => one.textContent).join(' ')";
    let together = session.script(together).await?;
    ensure(together.as_str().is_some_and(|all| all.contains('?') && all.contains("his")), || {
        format!("{together}")
    })?;
    session.switch("A click ticks a sign as learned", true).await?;
    let heights = "return [...document.querySelectorAll('.chart .tile')].map((one) => one.getBoundingClientRect().height).join()";
    let before = session.script(heights).await?;
    session.script("document.querySelectorAll('.chart .tile button')[2].click()").await?;
    session
        .until(
            "the tick",
            "return document.querySelectorAll('.chart .tile .known')[2].textContent.includes('ticked')",
        )
        .await?;
    let after = session.script(heights).await?;
    ensure(before == after, || "ticking stretches a row".to_owned())
}

/// A goal is chosen, kept, and told with its day.
pub async fn a_goal_is_chosen_and_forecast(session: Session) -> Outcome {
    crate::states::stand(&session, "record").await?;
    session.until("the goals", "return document.querySelectorAll('.goal option').length > 60").await?;
    let choose = "const at = document.querySelector('.goal select'); at.value = 'unit k-to-t'; at.dispatchEvent(new Event('change', {bubbles: true}))";
    session.script(choose).await?;
    session
        .until(
            "how far it is",
            "return /of 20 signs kept/.test(document.querySelector('.goal .large')?.textContent)",
        )
        .await?;
    session.open("#/record").await?;
    session
        .until("the goal again", "return document.querySelector('.goal select')?.value === 'unit k-to-t'")
        .await?;
    // M is not taken for t by any likeness of shape: it stands apart.
    let pairs = session.script("return document.querySelector('main').textContent").await?;
    ensure(pairs.as_str().is_some_and(|text| text.contains("look like the ones asked")), || {
        "what is no confusion is not set apart".to_owned()
    })
}
