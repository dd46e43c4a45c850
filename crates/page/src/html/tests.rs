//! The pages, read back: with `scraper` for what a reader sees, with the program's own reader for the source.

use std::time::{Duration, Instant};

use proptest::prelude::*;
use scraper::{ElementRef, Html, Selector};
use seamwright_drawing::{Anchor, Drawing, Fill, Stroke};

use super::text::GENERATOR;
use super::*;
use crate::attached::{ReadError, SOURCE_LIMIT};
use crate::block::{
    Align, Block, Cell, Column, Field, Figure, Footer, Masthead, NoticeItem, NoticeKind, Row, Source, Table,
};
use crate::paper::Paper;

/// What must never do anything, wherever it stands.
const HOSTILE: &str = "</script></style></title></pre><script>alert(1)</script>{{ 7*7 }}{% if x %}\" onload='x'<svg onload=alert(1)>&amp;\\";

fn drawing(words: &str) -> Drawing {
    let mut drawing = Drawing::new(80.0, 40.0);
    drawing.polygon(&[(1.0, 1.0), (30.0, 1.0), (30.0, 20.0)], Fill::Hatch(1.5), Some(Stroke::solid(0.5)));
    drawing.text((10.0, 10.0), words, 8.0, Anchor::Middle);
    drawing
}

fn figure(words: &str) -> Figure {
    Figure {
        title: words.into(),
        clause: Some(words.into()),
        drawing: drawing(words).into(),
        alt: words.into(),
        caption: Some(words.into()),
    }
}

fn table(words: &str) -> Table {
    let column = |align| Column { heading: words.into(), unit: Some(words.into()), align, weight: 1.0 };
    let cell = || Cell { text: words.into(), note: Some(words.into()), bold: true };
    Table {
        caption: Some(words.into()),
        columns: vec![column(Align::Left), column(Align::Right), column(Align::Left), column(Align::Left)],
        rows: vec![
            Row { cells: vec![cell(), cell(), cell(), cell()], marked: true },
            // More and fewer cells than columns: nothing a sheet should hold, and nothing that may break the page.
            Row { cells: vec![cell(), cell(), cell(), cell(), cell()], marked: false },
            Row { cells: Vec::new(), marked: false },
        ],
    }
}

fn notice(kind: NoticeKind, words: &str) -> Block {
    let item = |lead: Option<&str>| NoticeItem { lead: lead.map(Into::into), text: words.into() };
    Block::Notice { kind, title: Some(words.into()), items: vec![item(Some(words)), item(None)] }
}

/// A sheet with every kind of block, and the same words in every place.
fn everywhere(words: &str) -> Sheet {
    let text = || words.to_owned();
    let fields = (1..=4).map(|span| Field { large: span == 2, ..Field::new(words, words).wide(span) }).collect();
    Sheet {
        masthead: Masthead {
            manufacturer: text(),
            kind: text(),
            title: text(),
            number: text(),
            facts: vec![(text(), text())],
            stamp: Some(text()),
            qr: Some(text().into()),
        },
        blocks: vec![
            Block::heading(words, Some(words)),
            Block::Fields { fields },
            Block::Table(table(words)),
            Block::Settings(table(words)),
            Block::Drawings { drawings: vec![figure(words), figure(words)] },
            notice(NoticeKind::Caution, words),
            notice(NoticeKind::Stop, words),
            notice(NoticeKind::Remark, words),
            Block::paragraph(words),
            Block::Paragraph { text: text(), small: true },
            Block::List { numbered: true, small: false, items: vec![text()] },
            Block::List { numbered: false, small: true, items: vec![text()] },
            Block::Signatures { boxes: vec![(text(), text()), (text(), String::new())] },
            Block::Columns {
                left: vec![Block::heading(words, None), Block::Drawings { drawings: vec![figure(words)] }],
                right: vec![Block::Together { blocks: vec![Block::paragraph(words)] }],
                share: f64::NAN,
            },
            Block::PageBreak,
        ],
        footer: Footer { checked: text(), reference: text() },
        one_page: false,
        large: false,
        planned: None,
        annex: Vec::new(),
        source: Source { file_name: text(), text: text(), digest: text(), date: Some(text()), made_with: None },
    }
}

fn plain(words: &str) -> Sheet {
    let mut sheet = everywhere(words);
    sheet.source.file_name = "P-021.yaml".into();
    sheet
}

fn page(sheet: &Sheet) -> String {
    HtmlRenderer::new().unwrap().render(sheet, &HtmlOptions::default()).unwrap()
}

fn select<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn texts(page: &Html, selector: &str) -> Vec<String> {
    select(page, selector).into_iter().map(|element| element.text().collect()).collect()
}

fn with(files: &[(&str, &str)]) -> Result<HtmlRenderer, HtmlError> {
    let files: Vec<(String, String)> =
        files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    HtmlRenderer::with_overrides(&files)
}

#[test]
fn every_block_says_what_it_was_given() {
    let html = Html::parse_document(&page(&plain("argon 8–10 L/min")));
    let said = "argon 8–10 L/min";
    for (selector, count) in [
        ("head > title", 1),
        ("h1", 1),
        (".stamp", 1),
        (".facts .number dd", 1),
        (".facts div:not(.number) dt", 1),
        (".fields dt", 4),
        (".fields dd", 4),
        (".fields .large dd", 1),
        (".fields .s4 dd", 1),
        ("table.plain caption", 1),
        ("table.settings caption", 1),
        ("figcaption", 3),
        ("svg.drawing > title", 3),
        ("svg.drawing > desc", 3),
        ("svg.drawing > text", 3),
        (".notice.caution h2", 1),
        (".notice.stop li b", 1),
        (".notice.remark", 1),
        ("main > p", 2),
        ("main > p.small", 1),
        ("ol.list li", 1),
        ("ul.list.small li", 1),
        (".signatures .role", 2),
        (".columns > .column .drawings", 1),
        (".columns > .column .together p", 1),
        ("hr.page-break", 1),
        (".foot .reference", 1),
        ("td.r.b", 4),
    ] {
        let found = texts(&html, selector);
        assert_eq!(found.len(), count, "{selector}");
        if selector != "hr.page-break" {
            assert!(found.iter().all(|text| text.contains(said)), "{selector}: {found:?}");
        }
    }
    assert_eq!(texts(&html, ".signatures .name"), [said, ""]);
    assert_eq!(texts(&html, "tr.marked td small"), [said; 6]);
}

#[test]
fn the_page_speaks_to_machines_and_readers() {
    let options = HtmlOptions { language: "pl".into(), paper: Paper::Letter, ..HtmlOptions::default() };
    let text = HtmlRenderer::new().unwrap().render(&plain("spoina"), &options).unwrap();
    assert!(text.starts_with("<!doctype html>"), "{}", &text[..40]);
    let html = Html::parse_document(&text);
    assert_eq!(select(&html, "html")[0].attr("lang"), Some("pl"));
    assert_eq!(select(&html, "meta[name=generator]")[0].attr("content"), Some(GENERATOR));
    let policy = select(&html, "meta[http-equiv=Content-Security-Policy]")[0].attr("content").unwrap();
    assert!(policy.starts_with("default-src 'none'; style-src 'unsafe-inline'; img-src data:"), "{policy}");
    assert_eq!(select(&html, "meta[name=viewport]").len(), 1);
    assert!(select(&html, "script, link, iframe, img, object").is_empty());
    assert_eq!(select(&html, "svg[role=img]").len(), select(&html, "svg").len());
    assert!(text.contains("@page{size:letter;"), "paper");
    for table in select(&html, "table") {
        let headings = Selector::parse("thead th[scope=col]").unwrap();
        assert_eq!(table.select(&headings).count(), 4);
    }
    assert_eq!(select(&html, "tbody th[scope=row]").len(), 4);
    assert_eq!(select(&html, "td[data-label='spoina, spoina']").len(), 12);
    // Every id is used once, and what points at an id finds it.
    let mut ids: Vec<&str> = select(&html, "[id]").iter().filter_map(|element| element.attr("id")).collect();
    ids.sort_unstable();
    assert!(ids.windows(2).all(|pair| pair[0] != pair[1]), "{ids:?}");
    for element in select(&html, "[aria-labelledby]") {
        for id in element.attr("aria-labelledby").unwrap().split(' ') {
            assert!(ids.contains(&id), "{id}");
        }
    }
}

#[test]
fn nothing_is_fetched() {
    let text = page(&plain("x"));
    let outside: Vec<&str> =
        text.match_indices("://").map(|(index, _)| &text[index.saturating_sub(8)..index + 24]).collect();
    assert!(outside.iter().all(|found| found.contains("www.w3.org/2000/svg")), "{outside:?}");
    assert!(!text.contains("@import") && !text.contains("@font-face"));
}

#[test]
fn hostile_words_are_inert_in_every_place() {
    let text = page(&everywhere(HOSTILE));
    let html = Html::parse_document(&text);
    let calm = Html::parse_document(&page(&everywhere("calm")));
    // The same elements with the same names of attributes: no word became an element or an attribute.
    let shape = |html: &Html| -> Vec<String> {
        select(html, "*")
            .iter()
            .map(|element| {
                let mut names: Vec<&str> = element.value().attrs().map(|(name, _)| name).collect();
                names.sort_unstable();
                format!("{} {}", element.value().name(), names.join(" "))
            })
            .collect()
    };
    // Long words make long columns, which is a class and no element.
    let (hostile, calm) = (shape(&html), shape(&calm));
    assert_eq!(hostile, calm);
    assert!(select(&html, "script").is_empty());
    assert!(!text.contains("49"), "a template ran");
    assert!(texts(&html, "h1")[0].contains("{{ 7*7 }}"));
    assert!(texts(&html, "h1")[0].contains("&amp;"), "an escape was undone");
}

#[test]
fn the_running_foot_cannot_leave_its_string() {
    let mut sheet = plain("x");
    sheet.footer.reference = "\"}</style><script>\\\n*/;@import 'x'".into();
    let text = page(&sheet);
    assert_eq!(text.matches("</style").count(), 1);
    let css = text.split_once("@bottom-right{content:").unwrap().1.split_once(" \" · \"").unwrap().0;
    assert_eq!(
        css,
        "\"\\22 \\7d \\3c \\2f style\\3e \\3c script\\3e \\5c \\a \\2a \\2f \\3b \\40 import \\27 x\\27 \""
    );
}

#[test]
fn a_card_with_more_on_it_prints_in_smaller_type() {
    let fit = |words: &str, one_page| {
        let mut sheet = plain("x");
        sheet.one_page = one_page;
        sheet.blocks = vec![Block::Settings(table("x")), Block::paragraph(words)];
        let text = page(&sheet);
        text.split_once("--fit:").unwrap().1.split_once(';').unwrap().0.parse::<f64>().unwrap()
    };
    let (short, long) = (fit("x", true), fit(&"word ".repeat(1500), true));
    assert!(short > 1.0 && long < 0.9, "{short} {long}");
    assert_eq!(fit(&"word ".repeat(1500), false).to_string(), "1");
}

#[test]
fn line_breaks_become_breaks() {
    let text = page(&plain("one\ntwo\r\nthree\rfour"));
    assert!(text.contains("<dd>one<br>two<br>three<br>four</dd>"));
}

#[test]
fn equal_sheets_give_equal_pages() {
    assert_eq!(page(&plain("x")), page(&plain("x")));
}

#[test]
fn a_notice_under_a_heading_goes_one_level_down() {
    let mut sheet = plain("x");
    sheet.blocks = vec![Block::heading("Cautions", None), notice(NoticeKind::Caution, "a")];
    let html = Html::parse_document(&page(&sheet));
    assert_eq!(texts(&html, ".notice h3"), ["a"]);
}

#[test]
fn the_source_comes_back_byte_for_byte() {
    for text in [
        "",
        "a: 1\n",
        "no line at the end",
        "\n\n  starts and ends with lines\r\nCRLF\rCR\t\u{0}\u{7f}\n\n",
        "Nähte: „żółć“ ⌀ 2,4 mm 🔥\u{feff}\u{2028}",
        HOSTILE,
        "<a id=\"source-file\" href=\"data:application/yaml;base64,AAAA\">",
        "<meta name=\"generator\" content=\"other\">",
        "]]> --> &lt; &amp;lt; %41 = + /",
    ] {
        let mut sheet = plain("x");
        sheet.source.text = text.into();
        sheet.source.file_name = "<P & \"Q\"> 'R'.yaml".into();
        sheet.source.digest = "7c1e & 09ab".into();
        let attached = source_of(&page(&sheet)).unwrap();
        assert_eq!(attached.text, text);
        assert_eq!(attached.file_name, "<P & \"Q\"> 'R'.yaml");
        assert_eq!(attached.digest, "7c1e & 09ab");
        // What a browser makes of it is the same.
        let html = Html::parse_document(&page(&sheet));
        let link = select(&html, "a[download]")[0];
        assert_eq!(link.attr("download"), Some("<P & \"Q\"> 'R'.yaml"));
        let packed = link.attr("href").unwrap().strip_prefix("data:application/yaml;base64,").unwrap();
        assert_eq!(base64::decode(packed).unwrap(), text.as_bytes());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_source_comes_back(text in any::<String>()) {
        let mut sheet = plain("x");
        sheet.source.text.clone_from(&text);
        prop_assert_eq!(source_of(&page(&sheet)).unwrap().text, text);
    }

    #[test]
    fn any_words_leave_the_page_readable(words in "[ -~\n\r\t\u{0}<>\"'&{}%äλ]{0,40}") {
        let html = Html::parse_document(&page(&everywhere(&words)));
        prop_assert!(select(&html, "script").is_empty());
        prop_assert_eq!(select(&html, "h1").len(), 1);
        prop_assert_eq!(select(&html, "table").len(), 2);
    }

    #[test]
    fn any_text_is_read_without_panic(text in any::<String>()) {
        prop_assert!(source_of(&text).is_err());
    }
}

#[test]
fn pages_that_carry_no_source_are_refused() {
    let good = page(&plain("x"));
    let html = |reason: &str| ReadError::NotReadable { format: "HTML", reason: reason.into() };
    assert_eq!(source_of("%PDF-1.7"), Err(html("it has neither a document type nor an html element")));
    let other = |producer: &str| Err(ReadError::OtherProgram { producer: producer.into() });
    assert_eq!(source_of("<!DOCTYPE html><p>"), other("an unnamed program"));
    assert_eq!(source_of(&good.replace(GENERATOR, "Other &amp; 1")), other("Other & 1"));
    assert_eq!(source_of(&good.replace("id=\"source-file\"", "")), Err(ReadError::NoSource));
    assert_eq!(source_of(&good.replace("data:application/yaml", "https")), Err(ReadError::NoSource));
    let link = good.split_once("<a id=").unwrap().1.split_once("</a>").unwrap().0;
    let twice = good.replace("</body>", &format!("<a id={link}</a></body>"));
    assert_eq!(source_of(&twice), Err(ReadError::SeveralSources { count: 2 }));
    assert_eq!(source_of(&good.replace("base64,eA==", "base64,eQ==")), Err(ReadError::Changed));
    assert_eq!(source_of(&good.replace("base64,eA==", "base64,e?==")), Err(ReadError::Changed));
    let large = format!("{good}{}", " ".repeat(PAGE_LIMIT));
    assert_eq!(source_of(&large), Err(ReadError::FileTooLarge { bytes: large.len(), limit: PAGE_LIMIT }));
    let packed = good.replace("base64,eA==", &format!("base64,{}", "AAAA".repeat(SOURCE_LIMIT / 3 + 2)));
    assert_eq!(source_of(&packed), Err(ReadError::SourceTooLarge { limit: SOURCE_LIMIT }));
}

#[test]
fn a_source_over_the_limit_is_not_embedded() {
    let mut sheet = plain("x");
    sheet.source.text = "a".repeat(SOURCE_LIMIT);
    assert_eq!(source_of(&page(&sheet)).unwrap().text.len(), SOURCE_LIMIT);
    sheet.source.text.push('a');
    let refused = HtmlRenderer::new().unwrap().render(&sheet, &HtmlOptions::default());
    assert_eq!(refused, Err(HtmlError::SourceTooLarge { bytes: SOURCE_LIMIT + 1 }));
}

#[test]
fn what_cannot_be_drawn_is_named() {
    let mut sheet = plain("x");
    let mut bad = figure("Joint");
    bad.drawing = Drawing { width: f64::NAN, ..Drawing::clone(&bad.drawing) }.into();
    sheet.blocks = vec![Block::Drawings { drawings: vec![bad] }];
    let renderer = HtmlRenderer::new().unwrap();
    let refused = renderer.render(&sheet, &HtmlOptions::default()).unwrap_err();
    assert_eq!(refused.to_string(), "the drawing \"Joint\" has a measure that is not a number or out of bounds");
    let mut sheet = plain("x");
    sheet.masthead.qr = Some("x".repeat(3000).into());
    assert_eq!(renderer.render(&sheet, &HtmlOptions::default()), Err(HtmlError::QrTooLong { bytes: 3000 }));
}

#[test]
fn a_file_of_the_users_stands_in_for_a_template() {
    let renderer = with(&[
        ("foot.html", "<footer>{{ footer.reference }} {% include \"logo.html\" %}</footer>"),
        ("logo.html", "<b>{{ masthead.manufacturer }}</b>"),
        ("sheet.css", "/* mine */\nh1 { color: navy }"),
        (
            "sheet.html",
            "{% extends \"built-in/sheet.html\" %}{% block head %}<meta name=\"author\" content=\"me\">{% endblock %}",
        ),
        ("README.md", "{% not a template"),
    ])
    .unwrap();
    let text = renderer.render(&plain("<i>"), &HtmlOptions::default()).unwrap();
    assert!(text.contains("<footer>&lt;i&gt; <b>&lt;i&gt;</b></footer>"), "{text}");
    assert!(text.contains("<style>\nh1 { color: navy }\n@media print"), "{text}");
    assert!(text.contains("<meta name=\"author\" content=\"me\">"), "{text}");
    assert_eq!(source_of(&text).unwrap().text, "<i>");
}

#[test]
fn every_built_in_text_can_be_handed_in_again() {
    let files: Vec<(String, String)> =
        template_names().map(|(name, text)| (name.to_owned(), text.to_owned())).collect();
    let own = HtmlRenderer::with_overrides(&files).unwrap();
    assert_eq!(own.render(&plain("x"), &HtmlOptions::default()).unwrap(), page(&plain("x")));
}

#[test]
fn a_fault_in_a_template_is_told_with_file_and_line() {
    let fault = |name: &str, text: &str| {
        with(&[(name, text)])
            .and_then(|renderer| renderer.render(&plain("x"), &HtmlOptions::default()))
            .unwrap_err()
            .to_string()
    };
    for (name, text, place) in [
        ("foot.html", "<p>\n{{ footer.checked", "foot.html, line 2: "),
        ("foot.html", "<p>\n\n{{ footer.chequed }}", "foot.html, line 3: "),
        ("foot.html", "\n{{ footer.checked | shout }}", "foot.html, line 2: "),
        ("block-list.html", "\n\n\n{{ block.items + 1 }}", "block-list.html, line 4: "),
        ("masthead.html", "\n{% include \"logo.html\" %}", "masthead.html, line 2: "),
        ("foot.html", "{% include \"foot.html\" %}", "foot.html: it includes itself"),
        ("foot.html", "{% extends \"none.html\" %}", "foot.html: it extends \"none.html\", which is not there"),
        ("sheet.css", "a{}\nb{}\n</style>", "sheet.css, line 3: \"</\" would end the style inside the page"),
    ] {
        let told = fault(name, text);
        assert!(told.starts_with(place), "{told}");
        assert!(!told.contains("built-in/"), "{told}");
    }
}

#[test]
fn a_name_that_no_page_asks_for_is_refused_with_the_nearest() {
    let nearest = |name: &str| match with(&[(name, "x")]) {
        Err(HtmlError::UnusedTemplate { nearest, .. }) => nearest,
        other => panic!("{other:?}"),
    };
    assert_eq!(nearest("block-heeding.html").as_deref(), Some("block-heading.html"));
    assert_eq!(nearest("block-field.html").as_deref(), Some("block-fields.html"));
    assert_eq!(nearest("sheets.css").as_deref(), Some("sheet.css"));
    assert_eq!(nearest("ünrelated.html"), None);
}

#[test]
fn templates_that_lose_the_source_are_refused() {
    let lost = |text: &str| {
        with(&[("source.html", text)]).unwrap().render(&plain("x"), &HtmlOptions::default()).unwrap_err().to_string()
    };
    assert_eq!(lost("<p>none"), "the templates do not carry the source: the file carries no source");
    assert_eq!(
        lost("{% include \"built-in/source.html\" %}{% include \"built-in/source.html\" %}"),
        "the templates do not carry the source: the file carries 2 sources, where one is read"
    );
}

#[test]
fn a_template_that_loops_is_stopped() {
    let limit = Duration::from_millis(200);
    let deep = |body: &str| {
        let (open, close): (String, String) = (0..5)
            .map(|depth| (format!("{{% for i{depth} in range(end=1000) %}}"), "{% endfor %}"))
            .fold((String::new(), String::new()), |(open, close), (start, end)| (open + &start, close + end));
        format!("{open}{body}{close}")
    };
    for body in ["", "{{ i4 }}"] {
        let renderer = with(&[("foot.html", &deep(body))]).unwrap().with_time_limit(limit);
        let start = Instant::now();
        let stopped = renderer.render(&plain("x"), &HtmlOptions::default());
        assert_eq!(stopped, Err(HtmlError::TooSlow { limit }));
        assert!(start.elapsed() < Duration::from_secs(20), "{:?}", start.elapsed());
    }
}

#[test]
fn a_template_that_grows_is_stopped() {
    let thousand = "x".repeat(1000);
    let text = format!(
        "{{% for i in range(end=1000) %}}{{% for j in range(end=100) %}}{thousand}{{% endfor %}}{{% endfor %}}"
    );
    let renderer = with(&[("foot.html", &text)]).unwrap().with_time_limit(Duration::from_mins(1));
    assert_eq!(renderer.render(&plain("x"), &HtmlOptions::default()), Err(HtmlError::TooLarge { limit: PAGE_LIMIT }));
}

#[test]
fn a_template_that_calls_itself_is_stopped() {
    let text = "{% component again() %}{{ <again/> }}{% endcomponent again %}{{ <again/> }}";
    let stopped = with(&[("foot.html", text)]).unwrap().render(&plain("x"), &HtmlOptions::default());
    assert!(matches!(stopped, Err(HtmlError::Template { .. })), "{stopped:?}");
}

fn entries(words: &str) -> Vec<IndexEntry> {
    let text = || words.to_owned();
    let entry = IndexEntry {
        number: text(),
        revision: text(),
        title: text(),
        kind: text(),
        process: text(),
        metal: text(),
        thickness: text(),
        position: text(),
        other_units: text(),
        html: Some(text()),
        pdf: Some(text()),
    };
    vec![entry.clone(), IndexEntry { html: None, pdf: None, ..entry }]
}

#[test]
fn the_index_is_a_plain_table_with_links() {
    let mut list = entries("141");
    list[0].html = Some("sheets/P 021 ä.html".into());
    let html = Html::parse_document(&index(&list).unwrap());
    // One row for a document, whatever sheets it has.
    assert_eq!(select(&html, "#sheets tbody tr").len(), 1);
    assert_eq!(select(&html, "#sheets .sheet").len(), 2);
    assert_eq!(texts(&html, "td[data-column=process]"), ["141"]);
    let links: Vec<&str> = select(&html, "#sheets a").iter().filter_map(|link| link.attr("href")).collect();
    assert_eq!(links, ["sheets/P%20021%20%C3%A4.html", "141"]);
    // Without script the controls, which would do nothing, stay hidden.
    assert!(select(&html, "form")[0].attr("hidden").is_some());
}

#[test]
fn the_index_allows_its_own_script_only() {
    use sha2::{Digest, Sha256};
    let text = index(&entries(HOSTILE)).unwrap();
    let html = Html::parse_document(&text);
    let scripts = texts(&html, "script");
    assert_eq!(scripts.len(), 1);
    let policy = select(&html, "meta[http-equiv]")[0].attr("content").unwrap();
    let hash = base64::encode(&Sha256::digest(scripts[0].as_bytes()));
    assert!(policy.contains(&format!("script-src 'sha256-{hash}';")), "{policy}");
    assert!(!templates::SCRIPT.contains("</"), "the script would end itself");
}

#[test]
fn an_address_in_the_index_names_no_scheme() {
    let mut list = entries("x");
    list[0].html = Some("javascript:alert(1)".into());
    list[0].pdf = Some("//host/a\"><script>".into());
    let html = Html::parse_document(&index(&list).unwrap());
    let links: Vec<&str> = select(&html, "#sheets a").iter().filter_map(|link| link.attr("href")).collect();
    assert_eq!(links, ["javascript%3Aalert%281%29", "host/a%22%3E%3Cscript%3E"]);
}
