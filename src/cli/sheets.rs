//! How cards are put on paper, as arguments.

use clap::ValueEnum;

use crate::measure::Extent;
use crate::sheet::{Edge, Faces, ImposeError, Imposition, Paper, Sheet, impose};

/// Cards on paper to be cut; without `--sheet` a card is its own paper.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "Sheets")]
pub(super) struct SheetOptions {
    /// Put as many cards as fit on paper of this size, with crop marks
    #[arg(long, value_name = "PAPER", value_enum)]
    sheet: Option<PaperName>,
    /// Space between the cards on a sheet, as in "6 mm"; without it they share a cut
    #[arg(long, value_name = "SPACE", value_parser = extent, requires = "sheet")]
    gutter: Option<Extent>,
    /// What the printer leaves blank at every edge; 5 mm on A4 and 0.25 in on Letter unless set
    #[arg(long, value_name = "SPACE", value_parser = extent, requires = "sheet")]
    margin: Option<Extent>,
    /// Put the other pool's card behind each card, for a printer that turns paper over this edge
    #[arg(long, value_name = "EDGE", value_enum, requires = "sheet", conflicts_with = "pool")]
    duplex: Option<EdgeName>,
}

/// Papers by the names they are asked for.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum PaperName {
    A4,
    Letter,
}

/// Edges by the names printers have for them.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum EdgeName {
    LongEdge,
    ShortEdge,
}

fn extent(text: &str) -> Result<Extent, String> {
    Extent::read(text).ok_or_else(|| "write a length on paper as \"6 mm\" or \"0.25 in\"".into())
}

impl SheetOptions {
    /// The paper asked for.
    pub fn paper(&self) -> Option<Paper> {
        Some(match self.sheet? {
            PaperName::A4 => Paper::A4,
            PaperName::Letter => Paper::Letter,
        })
    }

    /// Whether the other pool's cards are printed behind.
    pub fn two_sided(&self) -> bool {
        self.duplex.is_some()
    }

    /// Cards on paper: as asked for, or each on its own.
    pub fn lay(&self, cards: Vec<Faces>) -> Result<Vec<Sheet>, ImposeError> {
        match self.imposition() {
            Some(imposition) => impose(&cards, &imposition),
            None => Ok(cards.into_iter().map(|faces| Sheet::of(faces.front)).collect()),
        }
    }

    /// How cards go on paper; `None` where each is its own.
    fn imposition(&self) -> Option<Imposition> {
        let paper = self.paper()?;
        let duplex = self.duplex.map(|edge| match edge {
            EdgeName::LongEdge => Edge::Long,
            EdgeName::ShortEdge => Edge::Short,
        });
        let plain = Imposition::plain(paper);
        Some(Imposition {
            margin: self.margin.unwrap_or(plain.margin),
            gutter: self.gutter.unwrap_or(plain.gutter),
            duplex,
            ..plain
        })
    }
}
