//! Groups of base metals against the standards that assign them.
//!
//! Sources: ASME BPVC Section IX, table QW/QB-422 (P-Number, group); CEN ISO/TR 20172 and 20173 with ISO/TR 15608
//! (groups of European and American metals). Rows that no published page was at hand for are marked (from memory).

use seamwright_handbook::{base_metals, metal_families};

/// Name as ordered, P-Number, group of ASME IX, group of ISO/TR 15608.
const AMERICAN: &[(&str, &str, Option<u32>, &str)] = &[
    // QW-422, first pages, 2017 edition.
    ("ASTM A36", "1", Some(1), "11.1"),
    ("ASTM A53 Gr. B", "1", Some(1), "11.1"),
    ("ASTM A106 Gr. B", "1", Some(1), "11.1"),
    ("ASTM A106 Gr. C", "1", Some(2), "11.1"),
    ("ASTM A105", "1", Some(2), "11.1"),
    // QW-422, summary of P-Numbers, 2012.
    ("ASTM A335 Gr. P11", "4", Some(1), "5.1"),
    ("ASTM A335 Gr. P22", "5A", Some(1), "5.2"),
    ("ASTM A335 Gr. P5", "5B", Some(1), "5.3"),
    ("ASTM A335 Gr. P9", "5B", Some(1), "5.4"),
    ("ASTM A335 Gr. P91", "15E", Some(1), "6.4"),
    ("ASTM A240 Type 304L", "8", Some(1), "8.1"),
    ("ASTM A312 TP316L", "8", Some(1), "8.1"),
    ("ASTM A240 S32205", "10H", Some(1), "10.1"),
    // From memory.
    ("ASTM A516 Gr. 70", "1", Some(2), "11.1"),
    ("ASTM A516 Gr. 60", "1", Some(1), "1.1"),
    ("ASTM A240 Type 310S", "8", Some(2), "8.2"),
    ("ASTM A240 Type 410", "6", Some(1), "7.2"),
    // QW-422, non-ferrous page, 2013.
    ("5083", "25", None, "22.4"),
    ("6061-T6", "23", None, "23.1"),
    ("C70600", "34", None, "34"),
    ("C71500", "34", None, "34"),
    ("N02200", "41", None, "41"),
    ("N04400", "42", None, "42"),
    ("Titanium grade 2", "51", None, "51"),
    // From memory.
    ("N06600", "43", None, "43"),
    ("N06625", "43", None, "43"),
    ("N08825", "45", None, "45"),
    ("C12200", "31", None, "31"),
    ("R60702", "61", None, "61"),
];

/// Name as ordered and group of ISO/TR 15608, by CEN ISO/TR 20172 (from memory where the limits of the group do not tell).
const EUROPEAN: &[(&str, &str)] = &[
    ("S235JR", "1.1"),
    ("S275JR", "1.1"),
    ("S355J2+N", "1.2"),
    ("P265GH", "1.1"),
    ("S690QL", "3.1"),
    ("S890QL", "3.2"),
    ("13CrMo4-5", "5.1"),
    ("10CrMo9-10", "5.2"),
    ("X10CrMoVNb9-1", "6.4"),
    ("1.4301", "8.1"),
    ("1.4404", "8.1"),
    ("1.4462", "10.1"),
    ("1.4410", "10.2"),
];

#[test]
fn american_metals_have_the_numbers_of_asme_ix_and_iso_15608() {
    for (name, p_no, group_no, iso) in AMERICAN {
        let metal = base_metals::find(name).unwrap_or_else(|| panic!("{name} is not known"));
        assert_eq!(metal.p_no, Some(*p_no), "P-Number of {name}");
        assert_eq!(metal.group_no, *group_no, "group number of {name}");
        assert_eq!(metal.iso_group, Some(*iso), "ISO group of {name}");
    }
    assert!(AMERICAN.len() + EUROPEAN.len() >= 20);
}

#[test]
fn european_metals_have_the_groups_of_iso_15608() {
    for (name, iso) in EUROPEAN {
        let metal = base_metals::find(name).unwrap_or_else(|| panic!("{name} is not known"));
        assert_eq!(metal.iso_group, Some(*iso), "ISO group of {name}");
        // ISO/TR 15608, table 1: the group of a metal names its family, or one wider.
        let family = metal_families::of_group(iso).unwrap_or_else(|| panic!("{iso}"));
        assert!(
            metal_families::is_in(metal.family, family.family) || metal_families::is_in(family.family, metal.family),
            "{name}: {} and {}",
            metal.family,
            family.family
        );
    }
}
