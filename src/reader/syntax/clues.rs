//! What is around the place where a parser stumbled.

/// Tables of which a file has several, each below a heading in two brackets.
pub(super) const SEVERAL: [&str; 5] = ["part", "lane", "week", "pattern", "skill"];
