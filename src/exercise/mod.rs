//! What a teacher sets: contents, links, result slips.
