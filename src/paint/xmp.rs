//! The XMP packet of a PDF: what the document says about itself, in XML.

use super::pdf::Meta;

/// The packet for a document.
pub(super) fn packet(meta: &Meta, producer: &str) -> String {
    let title = escaped(&meta.title);
    let language = escaped(&meta.language);
    let producer = escaped(producer);
    let dates = meta.date.map_or(String::new(), |date| {
        let (year, month, day) = date.parts();
        let day = format!("{year:04}-{month:02}-{day:02}");
        format!("<xmp:CreateDate>{day}</xmp:CreateDate><xmp:ModifyDate>{day}</xmp:ModifyDate>")
    });
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" \
         xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>\n\
         <dc:format>application/pdf</dc:format>\n\
         <pdf:Producer>{producer}</pdf:Producer>\n\
         {dates}</rdf:Description>\n\
         </rdf:RDF>\n\
         </x:xmpmeta>\n\
         <?xpacket end=\"r\"?>"
    )
}

/// `text` as character data; what XML cannot hold is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_cannot_break_the_xml() {
        assert_eq!(escaped("<a> & \"b\"\u{7}"), "&lt;a&gt; &amp; &quot;b&quot; ");
    }
}
