//! The register of sources: who published each document that the tables rest on, how it stands, and where it can be read.

use crate::find;
use crate::table::{Origin, table};

table!("sources", Row);

/// One document or page.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Identifier, kebab-case.
    pub id: &'static str,
    /// Who published it; nothing where nobody is named, and for practice.
    pub publisher: Option<&'static str>,
    /// Title.
    pub title: &'static str,
    /// Edition, where known.
    pub edition: Option<&'static str>,
    /// Kind of document.
    pub kind: &'static str,
    /// `primary`: the standard, or a page of its own publisher or maker; `secondary`: an excerpt, copy or reprint; `weak`.
    pub standing: &'static str,
    /// Page or table.
    pub page: Option<&'static str>,
    /// Address that may be printed.
    pub address: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// One line: publisher, title, edition, page, address.
    pub fn line(&self) -> String {
        let publisher = self.publisher.filter(|publisher| !self.title.starts_with(publisher));
        let title = Some(self.title);
        let parts = [publisher, title, self.edition, self.page, self.address];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// The document with this identifier.
pub fn get(id: &str) -> Option<&'static Row> {
    find::by_name(rows(), id, |row| [row.id])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::TABLES;

    #[test]
    fn every_published_row_names_a_publisher() {
        let mut rows = 0;
        for info in TABLES.iter().filter(|info| info.name() != "sources") {
            let table = info.table();
            for row in table.rows.iter().filter(|row| row["basis"] == "published") {
                rows += 1;
                let named = row["source"].as_array().unwrap().iter().filter_map(|key| table.source(key.as_str()?));
                assert!(named.into_iter().any(|source| source.publisher.is_some()), "{}: {row:?}", table.name);
            }
        }
        assert!(rows > 500, "{rows}");
    }

    #[test]
    fn documents_of_tables_stand_in_the_register() {
        for info in TABLES {
            for source in &info.table().sources {
                for id in source.register.iter().chain(&source.read_at) {
                    assert!(get(id).is_some(), "{}: {id}", info.name());
                }
            }
        }
        let d1_1 = get("aws-d1-1").unwrap();
        assert!(d1_1.publisher.is_some_and(|publisher| publisher.contains("American Welding Society")));
        // The table of spray transition names the page that it was read on.
        let spray = get("esab-mig-handbook").unwrap();
        assert_eq!(spray.page, Some("Table 1-2, minimum current for spray"));
        assert!(spray.address.is_some_and(|address| address.ends_with("592mig1_6.htm")));
        let standings = ["primary", "secondary", "weak"];
        assert!(rows().iter().all(|row| standings.contains(&row.standing)));
        // A page that nobody named stands for nothing.
        assert!(
            rows().iter().all(|row| row.publisher.is_some() || row.standing != "primary" || row.kind == "own-practice")
        );
    }
}
