//! Every rule there is, from the tables of the stages that find by them.

use crate::finding::Rule;
use crate::{advice, block, check, handout, press, reader, session, source, stock, typeset, words};

/// All rules, in the order of the stages.
pub fn all() -> impl Iterator<Item = &'static Rule> {
    let print =
        [stock::RULES, words::RULES, typeset::RULES, press::RULES, handout::RULES, block::RULES];
    let gates =
        [source::RULES, reader::RULES, session::RULES, check::RULES].into_iter().chain(print);
    gates.flatten().copied().chain(advice::rules())
}

/// The rule of an id.
pub fn by_id(id: &str) -> Option<&'static Rule> {
    all().find(|rule| rule.id == id)
}

/// The id nearest to one that does not exist, if one is near enough.
pub fn nearest(id: &str) -> Option<&'static str> {
    reader::nearest(id, all().map(|rule| rule.id))
}
