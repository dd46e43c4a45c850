//! What checks look at: a kind of document, or a procedure held against another document.
//!
//! To check something new, name it here: the word that `explain` prints, and what its checks see. Its checks are a list of
//! `Rule<It>` in a folder of their own, run by [`crate::check_with`].

use seamwright_model::lesson::Lesson;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;
use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;

/// What a check looks at.
pub trait Subject: 'static {
    /// Its name: the word of a kind of document, or what a procedure is held against.
    const WORD: &'static str;
    /// What its checks see of it.
    type View<'d>: Sync + 'd;
}

impl Subject for Procedure {
    const WORD: &'static str = "procedure";
    type View<'d> = View<'d>;
}

impl Subject for TestRecord {
    const WORD: &'static str = "test-record";
    type View<'d> = RecordView<'d>;
}

impl Subject for Shop {
    const WORD: &'static str = "shop";
    type View<'d> = Shop;
}

impl Subject for Lesson {
    const WORD: &'static str = "lesson";
    type View<'d> = LessonView<'d>;
}

/// A procedure held against a shop.
pub struct InShop;

impl Subject for InShop {
    const WORD: &'static str = "procedure in a shop";
    type View<'d> = InShopView<'d>;
}

/// A test record with what the handbook knows of its parts.
pub struct RecordView<'d> {
    /// As stated.
    pub record: &'d TestRecord,
    /// Its sections seen as those of a procedure; pointers are the same.
    pub view: &'d View<'d>,
}

/// A lesson with the documents that it names, where they are at hand.
pub struct LessonView<'d> {
    /// As stated.
    pub lesson: &'d Lesson,
    /// The procedure that is taught.
    pub procedure: Option<&'d View<'d>>,
    /// The shop whose machines and stock are used.
    pub shop: Option<&'d Shop>,
}

/// A procedure and the shop that is to weld it.
pub struct InShopView<'d> {
    /// The procedure; pointers of findings lead into it.
    pub view: &'d View<'d>,
    /// The shop.
    pub shop: &'d Shop,
}
