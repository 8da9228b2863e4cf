//! Pages of braille: layout, page numbers, title page, hand-in check.
