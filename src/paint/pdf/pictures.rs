//! Badges as image streams, each encoded once a run in each of its sizes.

use std::sync::{Arc, Mutex, PoisonError};

use printpdf::{DictItem, ExternalStream, ExternalXObject, XObject, XObjectId};

use super::fonts::items;
use super::{PaintError, deflated};
use crate::drawing::badge::Badge;
use crate::drawing::{Mark, Size};
use crate::sheet::Sheet;

/// The pictures of one document.
pub(super) struct Pictures(Vec<Picture>);

/// A badge as it is printed in one size.
#[derive(Clone)]
struct Picture {
    badge: Arc<Badge>,
    printed: Size,
    size_px: (u32, u32),
    /// Its pixels, compressed.
    content: Arc<[u8]>,
}

/// Club badges come few; a run over many clubs forgets the oldest.
const MOST_REMEMBERED: usize = 16;
static ENCODED: Mutex<Vec<Picture>> = Mutex::new(Vec::new());

impl Pictures {
    /// Every badge on `sheets`, once in each of its sizes.
    pub fn used_by(sheets: &[Sheet]) -> Result<Self, PaintError> {
        let mut pictures = Pictures(Vec::new());
        for item in items(sheets) {
            if let Mark::Picture(_, size, badge) = &item.mark
                && pictures.index(badge, *size).is_none()
            {
                pictures.0.push(encoded(badge, *size)?);
            }
        }
        Ok(pictures)
    }

    /// What content streams call a badge.
    pub fn name(&self, badge: &Arc<Badge>, printed: Size) -> Option<String> {
        self.index(badge, printed).map(name)
    }

    /// The pictures as the writer takes them.
    pub fn handed_over(&self) -> impl Iterator<Item = (XObjectId, XObject)> {
        let id = |index| XObjectId(name(index));
        self.0.iter().enumerate().map(move |(index, picture)| (id(index), picture.object()))
    }

    fn index(&self, badge: &Arc<Badge>, printed: Size) -> Option<usize> {
        self.0.iter().position(|picture| picture.is(badge, printed))
    }
}

fn name(index: usize) -> String {
    format!("Badge{index}")
}

impl Picture {
    fn is(&self, badge: &Arc<Badge>, printed: Size) -> bool {
        self.printed == printed && (Arc::ptr_eq(&self.badge, badge) || self.badge == *badge)
    }

    fn object(&self) -> XObject {
        let colours = match *self.badge {
            Badge::Greys(_) => "DeviceGray",
            Badge::Colours(_) => "DeviceRGB",
        };
        let dict = [
            ("Subtype", pdf_name("Image")),
            ("Width", DictItem::Int(i64::from(self.size_px.0))),
            ("Height", DictItem::Int(i64::from(self.size_px.1))),
            ("ColorSpace", pdf_name(colours)),
            ("BitsPerComponent", DictItem::Int(8)),
        ];
        external(&dict, self.content.to_vec())
    }
}

/// A name as the writer takes it.
pub(super) fn pdf_name(text: &str) -> DictItem {
    DictItem::Name(text.as_bytes().to_vec())
}

/// What pages place by name, compressed already, as the writer takes it.
pub(super) fn external(dict: &[(&str, DictItem)], content: Vec<u8>) -> XObject {
    let own = [("Type", pdf_name("XObject")), ("Filter", pdf_name("FlateDecode"))];
    let entries = own.iter().chain(dict);
    let stream = ExternalStream {
        dict: entries.map(|(key, value)| ((*key).to_owned(), value.clone())).collect(),
        content,
        compress: false,
    };
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}

fn encoded(badge: &Arc<Badge>, printed: Size) -> Result<Picture, PaintError> {
    // A panic elsewhere leaves whole pictures behind, or none.
    let remembered = || ENCODED.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = remembered().iter().find(|picture| picture.is(badge, printed)) {
        return Ok(known.clone());
    }
    let pixels = badge.for_print(printed);
    let content = deflated(pixels.bytes())?.into();
    let picture = Picture { badge: badge.clone(), printed, size_px: pixels.size_px(), content };
    let mut all = remembered();
    if all.len() >= MOST_REMEMBERED {
        all.remove(0);
    }
    all.push(picture.clone());
    Ok(picture)
}
