//! Every rule there is, from the tables of the stages that find by them. A register: it holds
//! records, and no code of those stages.

use std::sync::LazyLock;

use crate::finding::Rule;
use crate::{
    advice, block, check, draft, handout, press, reader, session, source, stock, typeset, words,
};

/// What the layout finds: it is seen on the paper.
const OF_PRINT: [&[&Rule]; 5] =
    [stock::RULES, words::RULES, typeset::RULES, press::RULES, handout::RULES];

/// All rules, in the order of the stages.
pub fn all() -> &'static [&'static Rule] {
    static ALL: LazyLock<Vec<&'static Rule>> = LazyLock::new(|| {
        let files =
            [source::RULES, reader::RULES, session::RULES, session::TEXT_RULES, check::RULES];
        let more = [block::rules::RULES, draft::RULES];
        let gates = files.into_iter().chain(OF_PRINT).chain(more);
        gates.flatten().copied().chain(advice::rules()).collect()
    });
    &ALL
}

/// Whether what a rule finds is seen on the paper: a fault of the layout, or a caution printed
/// beside a set.
pub fn touches_paper(rule: &Rule) -> bool {
    let mut rules = OF_PRINT.into_iter().flatten().copied().chain(advice::cautioned());
    rules.any(|of_paper| of_paper.id == rule.id)
}

/// The rule of an id.
pub fn by_id(id: &str) -> Option<&'static Rule> {
    all().iter().copied().find(|rule| rule.id == id)
}

/// The id nearest to one that does not exist, if one is near enough.
pub fn nearest(id: &str) -> Option<&'static str> {
    reader::nearest(id, all().iter().map(|rule| rule.id))
}
