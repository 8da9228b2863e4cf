//! Writes the 64 cells as a font of their own, U+2800 to U+283F: a line of cells is a line of text then, which a browser lays
//! out and paints sooner than shapes. All lengths are a thousandth of the distance between two dots of a cell; the same
//! measures stand in `page::widgets::cells_line`, and a test holds the font to them.

use write_fonts::FontBuilder;
use write_fonts::tables::cmap::Cmap;
use write_fonts::tables::glyf::{
    Anchor, Bbox, Component, ComponentFlags, CompositeGlyph, GlyfLocaBuilder, Glyph, SimpleGlyph, Transform,
};
use write_fonts::tables::head::Head;
use write_fonts::tables::hhea::Hhea;
use write_fonts::tables::hmtx::{Hmtx, LongMetric};
use write_fonts::tables::loca::LocaFormat;
use write_fonts::tables::maxp::Maxp;
use write_fonts::tables::name::{Name, NameRecord};
use write_fonts::tables::os2::Os2;
use write_fonts::tables::post::Post;
use write_fonts::types::{FWord, Fixed, GlyphId, NameId, Tag, UfWord};

use kurbo::{BezPath, Vec2};

/// From a cell to the next, and from a line to the next, which is the font's size.
const CELL_WIDTH: i16 = 2650;
const LINE_HEIGHT: i16 = 4270;
/// A dot's size, half of it.
const RADIUS: i16 = 310;
/// Where dot 1 lies: from the cell's left edge, and from the line's upper one.
const LEFT: i16 = (CELL_WIDTH - 1000) / 2;
const TOP: i16 = (LINE_HEIGHT - 2000) / 2;
/// How much of a line stands above the base line. No text of other fonts stands in it.
const ASCENT: i16 = 3400;

/// The font's file.
pub fn cells() -> Vec<u8> {
    let mut glyphs = GlyfLocaBuilder::new();
    // First what stands for characters that the font has not: nothing; then the dot that all cells are made of.
    let mut add = |glyph: Glyph| {
        glyphs.add_glyph(&glyph).expect("a glyph");
    };
    add(Glyph::Empty);
    add(Glyph::Simple(dot()));
    let mut metrics =
        vec![LongMetric::new(CELL_WIDTH as u16, 0), LongMetric::new(CELL_WIDTH as u16, -RADIUS)];
    for cell in 0..64u8 {
        let mut glyph: Option<CompositeGlyph> = None;
        for dot in (0..6).filter(|dot| cell >> dot & 1 == 1) {
            let (x, y) = (LEFT + 1000 * (dot / 3), ASCENT - TOP - 1000 * (dot % 3));
            let anchor = Anchor::Offset { x, y };
            let part =
                Component::new(GlyphId::new(1), anchor, Transform::default(), ComponentFlags::default());
            let bounds = Bbox { x_min: x - RADIUS, y_min: y - RADIUS, x_max: x + RADIUS, y_max: y + RADIUS };
            match &mut glyph {
                Some(glyph) => glyph.add_component(part, bounds),
                None => glyph = Some(CompositeGlyph::new(part, bounds)),
            }
        }
        let left = glyph.as_ref().map_or(0, |glyph| glyph.bbox.x_min);
        metrics.push(LongMetric::new(CELL_WIDTH as u16, left));
        add(glyph.map_or(Glyph::Empty, Glyph::Composite));
    }
    let count = metrics.len() as u16;
    let (glyf, loca, format) = glyphs.build();
    let characters = (0..64u32)
        .map(|cell| (char::from_u32(0x2800 + cell).expect("a braille pattern"), GlyphId::new(2 + cell)));
    let mut font = FontBuilder::new();
    let descent = ASCENT - LINE_HEIGHT;
    let head = Head {
        units_per_em: LINE_HEIGHT as u16,
        x_max: LEFT + 1000 + RADIUS,
        y_min: ASCENT - TOP - 2000 - RADIUS,
        y_max: ASCENT - TOP + RADIUS,
        lowest_rec_ppem: 8,
        index_to_loc_format: i16::from(format == LocaFormat::Long),
        ..Head::default()
    };
    let hhea = Hhea {
        ascender: FWord::new(ASCENT),
        descender: FWord::new(descent),
        advance_width_max: UfWord::new(CELL_WIDTH as u16),
        min_left_side_bearing: FWord::new(-RADIUS),
        x_max_extent: FWord::new(LEFT + 1000 + RADIUS),
        caret_slope_rise: 1,
        number_of_h_metrics: count,
        ..Hhea::default()
    };
    let points = (dot().contours[0].len()) as u16;
    let maxp = Maxp {
        num_glyphs: count,
        max_points: Some(points),
        max_contours: Some(1),
        max_composite_points: Some(6 * points),
        max_composite_contours: Some(6),
        max_zones: Some(1),
        max_component_elements: Some(6),
        max_component_depth: Some(1),
        max_twilight_points: Some(0),
        max_storage: Some(0),
        max_function_defs: Some(0),
        max_instruction_defs: Some(0),
        max_stack_elements: Some(0),
        max_size_of_instructions: Some(0),
    };
    let os2 = Os2 {
        x_avg_char_width: CELL_WIDTH,
        us_first_char_index: 0x2800,
        us_last_char_index: 0x283F,
        s_typo_ascender: ASCENT,
        s_typo_descender: descent,
        us_win_ascent: ASCENT as u16,
        us_win_descent: -descent as u16,
        ach_vend_id: Tag::new(b"    "),
        ..Os2::default()
    };
    // What a browser asks of a font's names: that there are some.
    let names = [(NameId::FAMILY_NAME, "Cells"), (NameId::SUBFAMILY_NAME, "Regular")];
    let names = names.map(|(id, name)| NameRecord::new(3, 1, 0x409, id, String::from(name).into()));
    font.add_table(&Cmap::from_mappings(characters).expect("one glyph for each"))
        .and_then(|font| font.add_table(&glyf))
        .and_then(|font| font.add_table(&loca))
        .and_then(|font| font.add_table(&head))
        .and_then(|font| font.add_table(&hhea))
        .and_then(|font| font.add_table(&Hmtx::new(metrics, Vec::new())))
        .and_then(|font| font.add_table(&maxp))
        .and_then(|font| font.add_table(&Name::new(names.to_vec())))
        .and_then(|font| font.add_table(&os2))
        .and_then(|font| {
            font.add_table(&Post::new(Fixed::from(0), FWord::new(0), FWord::new(0), 1, 0, 0, 0, 0))
        })
        .expect("the tables of a font")
        .build()
}

/// A dot round the place 0, 0: eight pieces of a parabola, which lie off the circle by less than a thousandth of its size.
fn dot() -> SimpleGlyph {
    use std::f64::consts::PI;
    let at = |eighth: f64, radius: f64| (Vec2::from_angle(eighth * PI / 4.0) * radius).round().to_point();
    let radius = f64::from(RADIUS);
    let mut path = BezPath::new();
    path.move_to(at(0.0, radius));
    for piece in 0..8 {
        let piece = f64::from(piece);
        path.quad_to(at(piece + 0.5, radius / (PI / 8.0).cos()), at(piece + 1.0, radius));
    }
    path.close_path();
    SimpleGlyph::from_bezpath(&path).expect("a closed path of parabolas")
}
