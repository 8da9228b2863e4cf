//! The Read room as it is used: actual size, line by line, facing print.

use serde_json::Value;

use crate::browser::{Outcome, Session, ensure};
use crate::desk_files::choose;

async fn number(session: &Session, script: &str) -> Outcome<f64> {
    Ok(session.script(script).await?.as_f64().unwrap_or(f64::NAN))
}

async fn opened(session: &Session) -> Outcome {
    session.open("#/read").await?;
    session.open_text("A piano for Little Fenn").await
}

/// Where the drawn card was made as wide as a bank card (85.60 mm, ISO/IEC 7810 ID-1), a cell is 6.2 mm from the next, a
/// line 10.0 mm from the next and dots are 2.34 mm apart (Specification 800, section 3.2).
pub async fn actual_size_is_the_size_of_paper(session: Session) -> Outcome {
    opened(&session).await?;
    session.find("button", "Actual size").await?.click().await?;
    session.until("the card", "return !!document.querySelector('.measure .card')").await?;
    // A screen of 96 pixels an inch, by the keys of the slider: 85.60 mm are 323.5 pixels; a finer one by more keys.
    for width in [324.0, 400.0] {
        let set = format!(
            "const at = document.querySelector('.measure input'); at.value = {width}; at.dispatchEvent(new Event('input', {{bubbles: true}}))"
        );
        session.script(&set).await?;
        session.until("the card's width", &format!("return Math.round(document.querySelector('.measure .card').getBoundingClientRect().width) >= {width}")).await?;
        session.picture(&format!("read-measure-{width}"), 1280).await?;
        session.find("button", "It is as wide as my card").await?.click().await?;
        session.until("the sheet again", "return !document.querySelector('.measure')").await?;
        let millimetre = width / 85.6;
        // The drawing's own units, from its dots: their smallest distances across and down.
        let scale = number(
            &session,
            "const at = document.querySelector('.paper'); return at.getBoundingClientRect().width / at.viewBox.baseVal.width",
        )
        .await?;
        let lines = number(&session, "return document.querySelector('.paper').getBoundingClientRect().height / document.querySelectorAll('.paper').length").await?;
        let rows =
            number(&session, "return document.querySelector('.paper').viewBox.baseVal.height / 4.27").await?;
        let dots = session
            .script(
                "const across = [...document.querySelector('.paper .dot').getAttribute('d').matchAll(/M([\\d.]+) /g)].map((one) => +one[1]);
                return [...new Set(across)].sort((a, b) => a - b).slice(0, 4)",
            )
            .await?;
        let across: Vec<f64> = serde_json::from_value(dots).unwrap_or_default();
        ensure(across.len() == 4, || format!("dots at {across:?}"))?;
        let near = |what: &str, pixels: f64, wanted: f64| {
            let is = pixels / millimetre;
            ensure((is / wanted - 1.0).abs() < 0.01, || format!("{what} is {is:.3} mm and not {wanted} mm"))
        };
        near("from dot to dot", (across[1] - across[0]) * scale, 2.34)?;
        near("from cell to cell", (across[2] - across[0]) * scale, 6.2)?;
        near("from line to line", lines / rows, 10.0)?;
        if width < 400.0 {
            session.find("button", "Measure this screen again").await?.click().await?;
            session.until("the card", "return !!document.querySelector('.measure .card')").await?;
        }
    }
    // It is asked once.
    session.open("#/read").await?;
    session.find("button", "Actual size").await?.click().await?;
    ensure(session.script("return !document.querySelector('.measure')").await? == Value::Bool(true), || {
        "it is asked again".to_owned()
    })
}

/// One line at a time: it alone is drawn, with its print beside it; buttons and keys go on; a clue is for its cell.
pub async fn line_by_line(session: Session) -> Outcome {
    opened(&session).await?;
    let choose = |label: &str, n: usize| {
        format!(
            "const at = [...document.querySelectorAll('.view label')].find((label) => label.textContent.startsWith('{label}')).querySelector('select');
            at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
        )
    };
    let high = "return document.querySelector('.paper').viewBox.baseVal.height";
    let page = number(&session, high).await?;
    session.script(&choose("Read", 1)).await?;
    session.script(&choose("Show", 2)).await?;
    session.until("one line", "return document.querySelector('.paper').viewBox.baseVal.height < 5").await?;
    ensure(page > 40.0, || format!("a page was {page} high"))?;
    session.until("its print", "return document.querySelectorAll('.print-side p').length === 1").await?;
    let print = "return document.querySelector('.print-side').textContent";
    let first = session.script(print).await?;
    // The blank line under the heading is passed over.
    session.find("button", "Next line").await?.click().await?;
    session
        .until(
            "the third line",
            "return document.querySelector('aside h2').textContent === 'Clues for line 3, cell 1'",
        )
        .await?;
    ensure(session.script(print).await? != first, || "the same print stands beside it".to_owned())?;
    session.picture("read-line", 1280).await?;
    session.picture("read-line", 390).await?;
    session.script("document.querySelector('.sheet-text').focus()").await?;
    session.press('\u{e013}').await?;
    session
        .until(
            "the line before",
            "return document.querySelector('aside h2').textContent.startsWith('Clues for line 2')",
        )
        .await?;
    // It is kept.
    session.open("#/read").await?;
    session
        .until(
            "line by line again",
            "return (document.querySelector('.paper')?.viewBox.baseVal.height ?? 99) < 5",
        )
        .await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// Braille words with older signs, each with what it says and what is to be told of it. The Rules of UEB, 1.3.2 to 1.3.4.
const OLDER: [(&str, &str, &str); 10] = [
    ("6see", "to see", "“to” (section 1.3.2)"),
    ("96!", "into the", "“into” (section 1.3.2)"),
    ("0bus", "by bus", "“by” (section 1.3.2)"),
    ("ta#", "table", "“ble” (section 1.3.2)"),
    ("-ing", "coming", "“com” (section 1.3.2)"),
    ("n,n", "nation", "“ation” (section 1.3.2)"),
    ("re,y", "really", "“ally” (section 1.3.2)"),
    ("la4]", "ladder", "“dd” (section 1.3.2)"),
    ("7yes7", "(yes)", "“(” (section 1.3.3)"),
    (".sea", "sea", "an indicator (section 1.3.4)"),
];

/// A page of ten older signs: the page asks once, reads each right, underlines it and tells it when it is met, with what is
/// written today; the clue says so. After a reload it does not ask again.
pub async fn ten_older_signs_are_read_and_told(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("older.brf");
    let page: String = OLDER.map(|(braille, ..)| format!("{}\r\n", braille.to_uppercase())).concat();
    std::fs::write(&path, page)?;
    session.open("#/read").await?;
    session.unfold().await?;
    choose(&session, "File", &path).await?;
    session.find("button", "Read the older signs").await?.click().await?;
    session
        .until("each underlined", "return (document.querySelector('.paper .mark')?.getAttribute('d') ?? '').split('M').length - 1 >= 10")
        .await?;
    let field = "document.querySelector('.says-line input')";
    for (n, (_, says, told)) in OLDER.iter().enumerate() {
        session.find("textbox", &format!("Line {} says", n + 1)).await?;
        let of_line =
            format!("return document.querySelector('.older-signs')?.textContent.includes({told:?})");
        session.until(told, &of_line).await?;
        let today = "return document.querySelector('.older-signs').textContent.includes('is written')";
        ensure(session.script(today).await? == Value::Bool(true), || format!("{told}: nothing of today"))?;
        if n + 1 == OLDER.len() {
            break;
        }
        session.script(&format!("{field}.focus()")).await?;
        session.find("textbox", &format!("Line {} says", n + 1)).await?.send_keys(says).await?;
        session.find("button", "Check").await?.click().await?;
        let right = format!(
            "return document.querySelector('aside [role=status]').textContent === {:?}",
            format!("Right: {says}")
        );
        session.until(says, &right).await?;
    }
    // The clue for an older sign says so.
    for _ in 0..6 {
        session.find("button", "A clue").await?.click().await?;
    }
    session
        .until(
            "the clue",
            "return document.querySelector('aside .clues').textContent.includes('An older sign')",
        )
        .await?;
    session.picture("read-older", 1280).await?;
    session.open("#/read").await?;
    session.open_text("older.brf").await?;
    session.until("read as before", "return !!document.querySelector('.paper .mark')").await?;
    let asks = "return [...document.querySelectorAll('main button')].some((one) => one.textContent === 'Read the older signs')";
    ensure(session.script(asks).await? == Value::Bool(false), || "it asks again".to_owned())
}

/// The keys of the sheet: a page on and back, a clue, a word, a line, the line aloud; no letter does anything.
pub async fn the_sheet_has_keys_of_its_own(session: Session) -> Outcome {
    opened(&session).await?;
    session.script("window.heard = []; addEventListener('cellwright-says', (event) => window.heard.push(event.detail)); document.querySelector('.sheet-text').focus()").await?;
    let on_page = |n: usize| {
        format!("return document.querySelector('.reading-room .note').textContent.startsWith('Page {n} of')")
    };
    session.press('\u{e00f}').await?;
    session.until("the second page", &on_page(2)).await?;
    session.press('\u{e00e}').await?;
    session.until("the first page", &on_page(1)).await?;
    session.press('\u{e007}').await?;
    session.until("a clue", "return document.querySelectorAll('aside .clues li').length === 1").await?;
    let open = "document.querySelector('aside .uncovered').textContent.trim().split(' ').filter((word) => word && word !== '–').length";
    session.press('\u{e010}').await?;
    session.press(' ').await?;
    session.until("a word", &format!("return {open} === 1")).await?;
    for letter in ['c', 'w', 'l', 'n'] {
        session.press(letter).await?;
    }
    session.with_shift(' ').await?;
    session.until("the line", &format!("return {open} > 1")).await?;
    session.with_shift('\u{e007}').await?;
    session
        .until(
            "the line aloud",
            "return window.heard.some((said) => said.includes('piano') || said.includes('Piano'))",
        )
        .await?;
    let clues = "return document.querySelectorAll('aside .clues li').length";
    ensure(session.script(clues).await? == 0, || "a letter is a key".to_owned())
}

/// An answer with a wrong word: how many words are right, the word stands selected in the answer, typed over it is right. Case
/// and a missing full stop are told and not failed.
pub async fn the_first_wrong_word_can_be_tried_again(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("log.txt");
    std::fs::write(&path, "The Kittiwake sails at noon.\n")?;
    session.open("#/read").await?;
    session.unfold().await?;
    choose(&session, "File", &path).await?;
    session.find("heading", "log.txt").await?;
    session.find("textbox", "Line 1 says").await?.send_keys("the kittiwake snails at noon").await?;
    session.find("button", "Check").await?.click().await?;
    let said = "document.querySelector('aside [role=status]').textContent";
    session.until("four of five", &format!("return {said}.startsWith('Not yet: 4 of 5 words.')")).await?;
    let selected = "const at = document.querySelector('.says-line input'); return document.activeElement === at ? at.value.slice(at.selectionStart, at.selectionEnd) : ''";
    session.until("the wrong word", &format!("return (() => {{ {selected} }})() === 'snails'")).await?;
    for letter in "sails".chars() {
        session.press(letter).await?;
    }
    session.press('\u{e007}').await?;
    session
        .until("right", &format!("return {said} === 'Right: The Kittiwake sails at noon. Capitals: The, Kittiwake. A full stop after noon.'"))
        .await
}

/// Beside a paper book: a word entered cell by cell with a doubtful dot; what is likely stands first.
pub async fn a_doubtful_word_from_paper_is_read(session: Session) -> Outcome {
    session.open("#/read").await?;
    session.unfold().await?;
    session.until("the cells", "return !!document.querySelector('.windows')").await?;
    // "the sea": dots 2-3-4-6, a blank, s 2-3-4, e 1-5, a 1 and perhaps 2 or 4 (10.3.1, 4.1).
    session.script("document.querySelector('.windows').focus()").await?;
    for key in "2346  234 15 12244".chars() {
        session.press(key).await?;
    }
    let first = "document.querySelector('.readings strong')?.textContent";
    session
        .until(
            "the likely one",
            &format!(
                "return document.querySelectorAll('.readings li').length === 4 && {first} === 'the sea'"
            ),
        )
        .await?;
    session.picture("read-beside", 1280).await
}

/// A book of 900 full pages and a letter of one, side by side: the first page is drawn in at most twice the time; words are
/// found and the whole is measured within two seconds, and meanwhile no piece of work holds the page; a far page is open
/// again after a reload.
pub async fn a_long_book_opens_like_a_letter(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    // 25 lines of 40 cells a page.
    let line = ",! f]ry sails f ,hallam ,quay at no";
    let page = format!("{line:-<40}\r\n").replace('-', "n").repeat(24);
    let mut book: String = (0..899).map(|_| format!("{page}{line}\r\n\u{c}")).collect();
    book.push_str(&format!("{page}! purple c[ sat d[n4\r\n"));
    let paths = [folder.path().join("letter.brf"), folder.path().join("book.brf")];
    std::fs::write(&paths[0], &page)?;
    std::fs::write(&paths[1], &book)?;
    session.open("#/read").await?;
    session.unfold().await?;
    // From the file's arrival to the frame that shows its first page.
    session
        .script(
            "window.opened = {}; document.addEventListener('change', (event) => {
                if (!event.target.matches('.own-text input[type=file]')) return;
                const name = event.target.files[0].name, from = performance.now();
                const look = () => document.querySelector('.reading-room h2')?.textContent === name
                    ? (window.opened[name] ??= []).push(performance.now() - from) : requestAnimationFrame(look);
                look();
            }, true)",
        )
        .await?;
    for turn in 1..=5 {
        for path in &paths {
            choose(&session, "File", path).await?;
            let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
            session.until(name, &format!("return window.opened[{name:?}]?.length === {turn}")).await?;
        }
    }
    let middle = |name: &str| format!("return window.opened[{name:?}].toSorted((a, b) => a - b)[2]");
    let letter = number(&session, &middle("letter.brf")).await?;
    let long = number(&session, &middle("book.brf")).await?;
    println!("first page: a letter {letter:.0} ms, 900 pages {long:.0} ms ({:.2} times)", long / letter);
    ensure(long <= 2.0 * letter, || format!("{long:.0} ms beside {letter:.0} ms"))?;
    session
        .script("window.longest = 0; new PerformanceObserver((list) => { for (const one of list.getEntries()) window.longest = Math.max(window.longest, one.duration) }).observe({entryTypes: ['longtask']});
            window.from = performance.now()")
        .await?;
    session.find("searchbox", "Find in this text").await?.send_keys("purple cow").await?;
    session
        .script(
            "window.took = 0; const from = performance.now(), status = document.querySelector('.find [role=status]');
            new MutationObserver(() => { if (status.textContent.endsWith('.')) window.took ||= performance.now() - from }).observe(status, {childList: true, subtree: true, characterData: true});
            document.querySelector('.find button').click()",
        )
        .await?;
    session
        .until("the cow", "return document.querySelector('.found')?.textContent.includes('Page 900')")
        .await?;
    let took = number(&session, "return window.took").await?;
    let longest = number(&session, "return window.longest").await?;
    println!("found in {took:.0} ms; the longest task took {longest:.0} ms");
    ensure(took > 0.0 && took < 2_000.0, || format!("found in {took:.0} ms"))?;
    session.script("document.querySelector('.found button').click()").await?;
    session
        .until(
            "page 900",
            "return document.querySelector('.reading-room .note').textContent.startsWith('Page 900 of 900')",
        )
        .await?;
    session.until("measured", "return document.querySelector('.reading-room').textContent.includes('In the whole text you know')").await?;
    session.open("#/read").await?;
    session.open_text("book.brf").await?;
    session
        .until(
            "page 900 again",
            "return document.querySelector('.reading-room .note').textContent.startsWith('Page 900 of 900')",
        )
        .await
}

/// Every text has a cover that says what it needs; one that is read through is ticked, and what comes next is offered.
pub async fn covers_say_what_a_text_needs_and_how_far_it_was_read(session: Session) -> Outcome {
    session.open("#/read").await?;
    session.unfold().await?;
    session.until("the covers", "return document.querySelectorAll('.cover').length > 110").await?;
    let all = "return [...document.querySelectorAll('.cover')].every((one) => /After unit \\d+: (you know all its signs|1 sign you don’t know|\\d+ signs you don’t know)/.test(one.textContent) && one.querySelector('.cover-braille path'))";
    ensure(session.script(all).await? == Value::Bool(true), || {
        "a cover does not say what it needs".to_owned()
    })?;
    session.picture("read-shelf", 1280).await?;
    session.picture("read-shelf", 390).await?;
    // The first board book, read through.
    let first = "return document.querySelector('[aria-label=\"Board books\"] .cover-title').textContent";
    let title = session.script(first).await?.as_str().unwrap_or_default().to_owned();
    session.open_text(&title).await?;
    for _ in 0..60 {
        session.find("button", "I have read this page").await?.click().await?;
        let more = "const next = [...document.querySelectorAll('.reading-room button')].find((one) => one.textContent === 'Next page'); const more = !next.disabled; next.click(); return more";
        if session.script(more).await? == Value::Bool(false) {
            break;
        }
    }
    session.unfold().await?;
    let ticked = format!(
        "return [...document.querySelectorAll('.cover')].some((one) => one.querySelector('.cover-title').textContent === {title:?} && /✓ read, \\d+ words a minute/.test(one.textContent))"
    );
    session.until("its tick", &ticked).await?;
    session.until("what comes next", &format!("return document.querySelector('.next-book').textContent.startsWith('Next on the shelf: ') && !document.querySelector('.next-book').textContent.includes({title:?})")).await
}
