//! What a file says of itself, as XMP (ISO 16684-1): the same as its information dictionary, and that all of it
//! is tagged (ISO 14289-1, clause 5).

use seamwright_drawing::svg::Escaped;

use crate::attached::PRODUCER;

/// What is said.
pub(super) struct Said<'a> {
    pub title: &'a str,
    pub author: &'a str,
    pub subject: &'a str,
    pub keywords: &'a str,
    pub language: &'a str,
    /// ISO 8601; only its day is used.
    pub day: Option<&'a str>,
}

impl Said<'_> {
    /// The packet.
    pub(super) fn packet(&self) -> String {
        let day = self.day.and_then(super::object::pdf_date).and(self.day).and_then(|day| day.get(..10));
        let dates = day.map_or_else(String::new, |day| {
            let date = format!("{day}T00:00:00Z");
            format!("<xmp:CreateDate>{date}</xmp:CreateDate><xmp:ModifyDate>{date}</xmp:ModifyDate>")
        });
        let author = match self.author {
            "" => String::new(),
            author => format!("<dc:creator><rdf:Seq><rdf:li>{}</rdf:li></rdf:Seq></dc:creator>", Escaped(author)),
        };
        format!(
            "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
             <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
             <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
             xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" \
             xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\">\
             <dc:format>application/pdf</dc:format>\
             <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>{author}\
             <dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:description>\
             <dc:language><rdf:Bag><rdf:li>{}</rdf:li></rdf:Bag></dc:language>\
             <pdf:Keywords>{}</pdf:Keywords><pdf:Producer>{}</pdf:Producer>\
             <xmp:CreatorTool>{}</xmp:CreatorTool>{dates}<pdfuaid:part>1</pdfuaid:part>\
             </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>",
            Escaped(self.title),
            Escaped(self.subject),
            Escaped(self.language),
            Escaped(self.keywords),
            Escaped(PRODUCER),
            Escaped(concat!("Seamwright ", env!("CARGO_PKG_VERSION"))),
        )
    }
}
