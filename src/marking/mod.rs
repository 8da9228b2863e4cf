//! Written braille against what print asks for: findings, with causes.
