//! The XMP packet of a PDF: what the document says about itself, in XML.

use super::Meta;

/// The packet for a document.
pub(super) fn packet(meta: &Meta, producer: &str) -> String {
    let title = escaped(&meta.title);
    let language = escaped(&meta.language);
    let producer = escaped(producer);
    let dates = meta.made.map_or(String::new(), |made| {
        let made = made.for_xmp();
        format!("<xmp:CreateDate>{made}</xmp:CreateDate><xmp:ModifyDate>{made}</xmp:ModifyDate>")
    });
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" \
         xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\" \
         xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>\n\
         <dc:format>application/pdf</dc:format>\n\
         <pdf:Producer>{producer}</pdf:Producer>\n\
         <pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance>\n\
         <pdfuaid:part>1</pdfuaid:part>\n\
         {dates}</rdf:Description>\n\
         {EXTENSION}\n\
         </rdf:RDF>\n\
         </x:xmpmeta>\n\
         <?xpacket end=\"r\"?>"
    )
}

/// PDF/A asks that a key outside XMP's own be described: here the one that says PDF/UA
/// (ISO 19005-2, 6.6.2.3).
const EXTENSION: &str = "<rdf:Description rdf:about=\"\" \
    xmlns:pdfaExtension=\"http://www.aiim.org/pdfa/ns/extension/\" \
    xmlns:pdfaSchema=\"http://www.aiim.org/pdfa/ns/schema#\" \
    xmlns:pdfaProperty=\"http://www.aiim.org/pdfa/ns/property#\">\
    <pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType=\"Resource\">\
    <pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>\
    <pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>\
    <pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>\
    <pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType=\"Resource\">\
    <pdfaProperty:name>part</pdfaProperty:name>\
    <pdfaProperty:valueType>Integer</pdfaProperty:valueType>\
    <pdfaProperty:category>internal</pdfaProperty:category>\
    <pdfaProperty:description>Part of ISO 14289</pdfaProperty:description>\
    </rdf:li></rdf:Seq></pdfaSchema:property>\
    </rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>";

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
