//! A cut in scrap that was planned, kept until it is made.

use super::{LoggedCut, cut};
use crate::own::SeenKey;
use crate::pass::description::Description;
use crate::store::entries::put_texts;
use crate::store::node::Node;
use crate::store::notice::Notice;
use serde_json::{Map, Value};

/// The key of planned cuts in a shop.
pub const CARDS: &str = "test-cuts";

/// A cut in scrap that was planned.
#[derive(Clone, Debug, PartialEq)]
pub struct TestCut {
    /// The cut, with nothing seen of it yet; its number is that of its card.
    pub cut: LoggedCut,
    /// What to measure of it.
    pub measure: Vec<SeenKey>,
    /// The pass it is made for.
    pub wanted: Description,
}

impl TestCut {
    pub(in crate::store) fn written(&self) -> Value {
        let mut value = self.cut.written();
        let words = self.measure.iter().map(|key| key.word());
        value["measure"] = words.collect::<Vec<_>>().into();
        let mut wanted = Map::new();
        put_texts(&mut wanted, &self.wanted);
        value["wanted"] = wanted.into();
        value
    }

    fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Result<Self, Notice> {
        let mut row = Self {
            cut: LoggedCut::empty(),
            measure: Vec::new(),
            wanted: Description::default(),
        };
        for (key, value) in node.members().unwrap_or_default() {
            let understood = match key.name.as_str() {
                "measure" => words(value).map(|measure| row.measure = measure),
                "wanted" => cut(value, notices).map(|wanted| row.wanted = wanted),
                name => row.cut.member(name, value, notices),
            };
            if understood.is_none() {
                let text = "is not understood in a test cut: this one is not used";
                return Err(Notice::new(key.line(), &key.name, text));
            }
        }
        if row.cut.number == 0 || row.cut.cut.is_empty() {
            let text = "needs a number and what is cut: this one is not used";
            return Err(Notice::new(node.line(), CARDS, text));
        }
        Ok(row)
    }
}

fn words(node: Node<'_>) -> Option<Vec<SeenKey>> {
    let words = node.list()?.into_iter();
    words.map(|word| SeenKey::of_word(&word.text()?)).collect()
}

/// Cuts in scrap that were planned, for one pass at a time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TestCutCards {
    /// The cuts.
    pub cuts: Vec<TestCut>,
    /// Rows that could not be read, kept as they stand.
    unread: Vec<Value>,
}

impl TestCutCards {
    pub(in crate::store) fn is_empty(&self) -> bool {
        self.cuts.is_empty() && self.unread.is_empty()
    }

    pub(in crate::store) fn written(&self) -> Value {
        let cuts = self.cuts.iter().map(TestCut::written);
        cuts.chain(self.unread.iter().cloned())
            .collect::<Vec<_>>()
            .into()
    }

    pub(in crate::store) fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Self> {
        let mut cards = Self::default();
        for row in node.list()? {
            match TestCut::read(row, notices) {
                Ok(card) => cards.cuts.push(card),
                Err(notice) => {
                    notices.push(notice);
                    cards.unread.push(row.value());
                }
            }
        }
        Some(cards)
    }
}
