//! What comes from outside, made of any bytes with the names that its decoders know: random text hardly ever gets past a
//! head line, a check sum or the name of a field.

use cellwright::exercise::Task;
use cellwright::marking::Kind;
use cellwright::practice::record::{Direction, HEAD};
use serde_json::{Map, Value, json};

/// Any bytes, used up from the front; when they have run out, noughts.
pub struct Draw<'a>(pub &'a [u8]);

impl Draw<'_> {
    fn byte(&mut self) -> u8 {
        let (first, rest) = self.0.split_first().map_or((0, self.0), |(first, rest)| (*first, rest));
        self.0 = rest;
        first
    }

    fn pick<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[usize::from(self.byte()) % choices.len()].clone()
    }

    /// A number: one at which bounds lie, or any.
    fn number(&mut self) -> String {
        let telling = [
            "0",
            "1",
            "2",
            "40",
            "200",
            "201",
            "1000",
            "65535",
            "65536",
            "4294967295",
            "4294967296",
            "9007199254740993",
            "253402300799999",
            "253402300800000",
            "18446744073709551615",
            "18446744073709551616",
            "-1",
            "1.5",
            "1e300",
        ];
        let n = self.byte();
        if usize::from(n) < 4 * telling.len() {
            return telling[usize::from(n) % telling.len()].to_owned();
        }
        (0..n % 8).fold(u64::from(n), |n, _| n.wrapping_mul(256) + u64::from(self.byte())).to_string()
    }

    /// A text: one that means something somewhere, or any.
    fn text(&mut self) -> String {
        let telling = [
            "",
            "letter e",
            "groupsign st",
            "numeric indicator",
            "4-5-6 1-2",
            "The 10:30 ferry leaves from Hallam Quay.",
            "# Notice\n\n- one\n- two\n",
            "---\ntitle: Notice\nvolumes: 2\n---\nText\n",
            ",! #aj3cj f]ry l1ves\n",
            "1:1, 2:14 mirrored, 3:2",
            "a\tb\\n\\t\\\\",
            "<u>*a* **b**</u>",
            "x\u{301}\u{202e}\u{feff}",
            "eye",
            "hand",
            "rule",
        ];
        let n = usize::from(self.byte());
        if n < 8 * telling.len() {
            return telling[n % telling.len()].to_owned();
        }
        let bytes: Vec<u8> = (0..n % 64).map(|_| self.byte()).collect();
        String::from_utf8_lossy(&bytes).into_owned()
    }

    /// A value in JSON, now and then of another type than the one asked for.
    fn value(&mut self, right: Value) -> Value {
        match self.byte() {
            250 => Value::Null,
            251 => json!([]),
            252 => json!({}),
            253 => json!(-1),
            254 => json!("x".repeat(30_000)),
            255 => json!(vec!["letter e"; 2_000]),
            _ => right,
        }
    }

    fn texts(&mut self, of: &[&str]) -> Value {
        (0..self.byte() % 5)
            .map(|_| if self.byte() < 200 { self.pick(of).to_owned() } else { self.text() })
            .collect::<Vec<_>>()
            .into()
    }
}

fn kinds() -> Vec<&'static str> {
    Kind::ALL.iter().map(|kind| kind.name()).collect()
}

/// A field's name, and what makes its value.
type Field = (&'static str, fn(&mut Draw) -> Value);

/// Some of these fields, each with a value of its own.
fn object(draw: &mut Draw, fields: &[Field]) -> Value {
    let mut all = Map::new();
    for (name, make) in fields {
        if draw.byte() & 3 > 0 {
            let right = make(draw);
            all.insert((*name).to_owned(), draw.value(right));
        }
    }
    all.into()
}

fn text(draw: &mut Draw) -> Value {
    draw.text().into()
}

fn count(draw: &mut Draw) -> Value {
    serde_json::from_str(&draw.number()).unwrap_or(Value::Null)
}

fn flag(draw: &mut Draw) -> Value {
    json!(draw.byte() & 1 == 1)
}

fn task(draw: &mut Draw) -> Value {
    json!(draw.pick(&Task::ALL))
}

fn plants(draw: &mut Draw) -> Value {
    let names: [Field; 5] = [
        ("rate", count),
        ("kinds", |draw| draw.texts(&kinds())),
        ("seed", count),
        ("beside", flag),
        ("look", |draw| draw.pick(&["Ink", "ink", "raised", "interpoint", "numbers"]).into()),
    ];
    object(draw, &names)
}

/// The contents of an exercise's link.
pub fn exercise(draw: &mut Draw) -> Value {
    object(
        draw,
        &[
            ("title", text),
            ("text", text),
            ("task", task),
            ("contracted", flag),
            ("dot_numbers_only", flag),
            ("hide_reading", flag),
            ("help", flag),
            ("items", count),
            ("signs", |draw| draw.texts(&["letter e", "groupsign st", "numeric indicator"])),
            ("answers", flag),
            ("plants", plants),
            ("trial", |draw| object(draw, &[("tenths", count), ("tries", count)])),
            ("book", text),
            ("cells", count),
            ("lines", count),
            ("divide", flag),
            ("uncounted", |draw| draw.texts(&kinds())),
            ("tries", count),
            ("shuffled", flag),
            ("asks", |draw| draw.pick(&["name", "number", "nothing", "Name"]).into()),
        ],
    )
}

fn range(draw: &mut Draw) -> Value {
    json!({"start": count(draw), "end": count(draw)})
}

fn sheet(draw: &mut Draw) -> Value {
    fn planted(draw: &mut Draw) -> Value {
        let one = |draw: &mut Draw| {
            object(
                draw,
                &[
                    ("kind", |draw| draw.pick(&kinds()).into()),
                    ("also", |draw| draw.texts(&kinds())),
                    ("line", count),
                    ("cells", range),
                    ("expected", text),
                    ("say", text),
                    ("section", text),
                    ("sign", text),
                ],
            )
        };
        (0..draw.byte() % 4).map(|_| one(draw)).collect::<Vec<_>>().into()
    }
    fn right(draw: &mut Draw) -> Value {
        (0..draw.byte() % 4)
            .map(|_| json!([count(draw), range(draw), draw.text(), draw.text()]))
            .collect::<Vec<_>>()
            .into()
    }
    object(
        draw,
        &[
            ("lines", |draw| draw.pick(&["ab\n\ncd\n", " ,! f]ry\n", ""]).into()),
            ("planted", planted),
            ("right", right),
        ],
    )
}

/// The contents of a result slip's link.
pub fn slip(draw: &mut Draw) -> Value {
    fn findings(draw: &mut Draw) -> Value {
        (0..draw.byte() % 4)
            .map(|_| object(draw, &[("name", text), ("times", count)]))
            .collect::<Vec<_>>()
            .into()
    }
    fn before(draw: &mut Draw) -> Value {
        let names: [Field; 6] = [
            ("day", text),
            ("right", |_| json!(1)),
            ("asked", |_| json!(2)),
            ("seconds", count),
            ("helped", flag),
            ("work", text),
        ];
        (0..draw.byte() % 3).map(|_| object(draw, &names)).collect::<Vec<_>>().into()
    }
    let mut slip = object(
        draw,
        &[
            ("title", text),
            ("task", task),
            ("by", text),
            ("day", text),
            ("right", count),
            ("asked", count),
            ("seconds", count),
            ("helped", flag),
            ("findings", findings),
            ("work", text),
            ("set", exercise),
            ("sheet", sheet),
            ("before", before),
            ("dropped", count),
        ],
    );
    if draw.byte() & 7 == 7 {
        slip["parts"] = (0..draw.byte() % 3).map(|_| self::slip(draw)).collect::<Vec<_>>().into();
    }
    // A slip with more right than asked is refused at once.
    if draw.byte() & 3 > 0 {
        slip["asked"] = slip["right"].clone();
    }
    slip
}

/// A learner's record: its head, and lines of every kind, whole or not.
pub fn record(draw: &mut Draw) -> String {
    let mut out = format!("{HEAD}\n");
    while !draw.0.is_empty() {
        let id = format!("{}-{}", draw.pick(&["a1", "t", "", "é"]), draw.number());
        let mut fields = vec![id, draw.number()];
        // The kind, and what its fields are: a direction, right or wrong, on or off, a number, a text.
        let (kind, shape) = draw.pick(&[
            ("answer", "tdrnntt"),
            ("cause", "ntt"),
            ("mark", "to"),
            ("note", "tt"),
            ("own", "tt"),
            ("text", "tnnnn"),
            ("run", "nnnt"),
            ("later", "t"),
        ]);
        fields.push(kind.to_owned());
        for form in shape.chars() {
            fields.push(match form {
                _ if draw.byte() > 250 => draw.text(),
                'd' => draw.pick(&Direction::ALL).name().to_owned(),
                'r' => draw.pick(&["right", "wrong"]).to_owned(),
                'o' => draw.pick(&["on", "off"]).to_owned(),
                'n' => draw.number(),
                _ => draw.text(),
            });
        }
        if draw.byte() == 255 {
            fields.pop();
        }
        out.push_str(&fields.join("\t"));
        out.push('\n');
    }
    out
}
