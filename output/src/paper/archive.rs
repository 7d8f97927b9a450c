//! What makes a file one to keep, as ISO 19005-2 (PDF/A-2b) asks: its metadata as XMP, in which it says so, and the grey that its
//! black is meant in. `scripts/kept-pdf` holds files against an independent checker.
//!
//! No clock is read: a file carries no date.

use lopdf::{Dictionary, Document, Object, Stream};

use super::words::text;

/// What wrote the file.
const PRODUCER: &str = concat!("borewright ", env!("CARGO_PKG_VERSION"));

/// Adds them.
pub(super) fn add(file: &mut Document, title: &str) {
    // Packets are read without being unpacked: they stay plain.
    let mut metadata = Dictionary::new();
    metadata.set("Type", Object::Name(b"Metadata".to_vec()));
    metadata.set("Subtype", Object::Name(b"XML".to_vec()));
    let metadata = Stream::new(metadata, packet(title).into_bytes()).with_compression(false);
    let metadata = file.add_object(metadata);
    let mut profile = Dictionary::new();
    profile.set("N", 1);
    let profile = file.add_object(Stream::new(profile, grey()));
    let mut intent = Dictionary::new();
    intent.set("Type", Object::Name(b"OutputIntent".to_vec()));
    intent.set("S", Object::Name(b"GTS_PDFA1".to_vec()));
    intent.set("OutputConditionIdentifier", Object::string_literal("grey, gamma 2.2"));
    intent.set("Info", Object::string_literal("Black on white paper."));
    intent.set("DestOutputProfile", profile);
    let mut info = Dictionary::new();
    info.set("Title", text(title));
    info.set("Producer", text(PRODUCER));
    let info = file.add_object(info);
    file.trailer.set("Info", info);
    if let Ok(catalog) = file.catalog_mut() {
        catalog.set("Metadata", metadata);
        catalog.set("OutputIntents", Object::Array(vec![Object::Dictionary(intent)]));
    }
}

fn packet(title: &str) -> String {
    let title = title.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n\
         <dc:format>application/pdf</dc:format>\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>\n\
         <pdf:Producer>{PRODUCER}</pdf:Producer>\n\
         <xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>\n\
         </rdf:Description>\n\
         <rdf:Description rdf:about=\"\" xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n\
         <pdfaid:part>2</pdfaid:part>\n<pdfaid:conformance>B</pdfaid:conformance>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

/// A grey profile of version 2 (ICC.1:2001): white point D50, one curve of gamma 2.2.
fn grey() -> Vec<u8> {
    const ASCII: &[u8] = b"grey, gamma 2.2\0";
    let mut described = b"desc\0\0\0\0".to_vec();
    described.extend(16_u32.to_be_bytes());
    described.extend(ASCII);
    // No Unicode and no script name: their fixed room is left empty.
    described.extend([0; 4 + 4 + 2 + 1 + 67]);
    let mut free = b"text\0\0\0\0".to_vec();
    free.extend(b"Free to use.\0");
    let mut white = b"XYZ \0\0\0\0".to_vec();
    // 0.9642, 1, 0.8249 as s15Fixed16.
    for part in [0x0000_f6d6_u32, 0x0001_0000, 0x0000_d32d] {
        white.extend(part.to_be_bytes());
    }
    let mut curve = b"curv\0\0\0\0\0\0\0\x01".to_vec();
    // 2.2 as u8Fixed8.
    curve.extend(0x0233_u16.to_be_bytes());
    let tags = [(b"desc", described), (b"cprt", free), (b"wtpt", white), (b"kTRC", curve)];
    let mut table = 4_u32.to_be_bytes().to_vec();
    let mut data: Vec<u8> = Vec::new();
    // Behind the head, the count and four entries.
    let mut at: u32 = 128 + 4 + 4 * 12;
    for (name, mut bytes) in tags {
        let length = u32::try_from(bytes.len()).unwrap_or_default();
        table.extend(name);
        table.extend(at.to_be_bytes());
        table.extend(length.to_be_bytes());
        while bytes.len() % 4 != 0 {
            bytes.push(0);
        }
        at += u32::try_from(bytes.len()).unwrap_or_default();
        data.extend(bytes);
    }
    let mut made = at.to_be_bytes().to_vec();
    made.extend([0; 4]);
    made.extend([2, 0x40, 0, 0]);
    made.extend(b"prtrGRAYXYZ ");
    // A date must stand there: the day of the format's own edition.
    for part in [2001_u16, 12, 1, 0, 0, 0] {
        made.extend(part.to_be_bytes());
    }
    made.extend(b"acsp");
    made.extend([0; 28]);
    for part in [0x0000_f6d6_u32, 0x0001_0000, 0x0000_d32d] {
        made.extend(part.to_be_bytes());
    }
    made.resize(128, 0);
    made.extend(table);
    made.extend(data);
    made
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_profile_says_its_own_length_and_its_tags_lie_inside() {
        let made = grey();
        let word = |at: usize| u32::from_be_bytes(made[at..at + 4].try_into().unwrap()) as usize;
        assert_eq!((word(0), &made[36..40]), (made.len(), b"acsp".as_slice()));
        for tag in 0..word(128) {
            let [at, length] = [136, 140].map(|offset| word(offset + 12 * tag));
            assert!(at % 4 == 0 && at >= 180 && at + length <= made.len());
        }
    }
}
