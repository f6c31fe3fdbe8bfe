//! Stocks: what is cut, in which conditions, and which printed groups they belong to.

use crate::error::{NotFound, Unknown};
use crate::hardness::Hardness;
use crate::listing::{Listed, listed_figure};
use crate::names;
use crate::sourced::{Figure, Printable, Provenance, Sourced};
use crate::stock_name;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use feeds_core::workpiece::IsoGroup;
use serde::Deserialize;

/// Kinds of stock that cut alike; tables refer to them where they print no single alloy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // the names say it
pub enum Class {
    #[serde(rename = "mild steel")]
    MildSteel,
    #[serde(rename = "carbon steel")]
    CarbonSteel,
    #[serde(rename = "high-carbon steel")]
    HighCarbonSteel,
    #[serde(rename = "low-alloy steel")]
    LowAlloySteel,
    #[serde(rename = "tool steel")]
    ToolSteel,
    #[serde(rename = "martensitic stainless")]
    MartensiticStainless,
    #[serde(rename = "austenitic stainless")]
    AusteniticStainless,
    #[serde(rename = "precipitation-hardening stainless")]
    PrecipitationHardening,
    Titanium,
    Brass,
    Bronze,
    #[serde(rename = "nickel silver")]
    NickelSilver,
    Copper,
    Aluminium,
    Nickel,
    Laminate,
}

impl Class {
    const ALL: [(Self, &'static str); 16] = [
        (Self::MildSteel, "mild steel"),
        (Self::CarbonSteel, "carbon steel"),
        (Self::HighCarbonSteel, "high-carbon steel"),
        (Self::LowAlloySteel, "low-alloy steel"),
        (Self::ToolSteel, "tool steel"),
        (Self::MartensiticStainless, "martensitic stainless"),
        (Self::AusteniticStainless, "austenitic stainless"),
        (
            Self::PrecipitationHardening,
            "precipitation-hardening stainless",
        ),
        (Self::Titanium, "titanium"),
        (Self::Brass, "brass"),
        (Self::Bronze, "bronze"),
        (Self::NickelSilver, "nickel silver"),
        (Self::Copper, "copper"),
        (Self::Aluminium, "aluminium"),
        (Self::Nickel, "nickel"),
        (Self::Laminate, "laminate"),
    ];

    /// The class written so, in any letter case and spelling.
    ///
    /// # Example
    /// ```
    /// use reference_tables::material::Class;
    /// assert_eq!(Class::of_word("Aluminum"), Some(Class::Aluminium));
    /// ```
    pub fn of_word(word: &str) -> Option<Self> {
        let wanted = names::plain(word);
        let mut all = Self::ALL.iter();
        let found = all.find(|(_, word)| names::plain(word) == wanted);
        found.map(|(class, _)| *class)
    }

    /// Whether it is a steel.
    pub(crate) fn is_steel(self) -> bool {
        match self {
            Self::MildSteel
            | Self::CarbonSteel
            | Self::HighCarbonSteel
            | Self::LowAlloySteel
            | Self::ToolSteel
            | Self::MartensiticStainless
            | Self::AusteniticStainless
            | Self::PrecipitationHardening => true,
            Self::Titanium
            | Self::Brass
            | Self::Bronze
            | Self::NickelSilver
            | Self::Copper
            | Self::Aluminium
            | Self::Nickel
            | Self::Laminate => false,
        }
    }

    /// How every class is written.
    pub fn words() -> impl Iterator<Item = &'static str> {
        Self::ALL.iter().map(|(_, word)| *word)
    }
}

/// Density in kilograms per cubic metre.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Density(pub f64);

impl Printable for Density {
    fn measured(number: f64, unit: &str) -> Option<Self> {
        (unit == "g/cm3").then_some(Self(number * 1000.0))
    }

    fn between(a: Self, b: Self, t: f64) -> Self {
        Self(a.0 + (b.0 - a.0) * t)
    }
}

/// Standard designations; a stock without one has none.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Designations {
    /// AISI, SAE, ASTM or the like.
    pub aisi: Option<String>,
    /// Unified numbering system.
    pub uns: Option<String>,
    /// EN or DIN name and number.
    pub en: Option<String>,
}

/// That a stock is read in a group of VDI 3323. The choice is ours, the group's figures are not.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Group {
    /// Number of the group.
    pub group: u8,
    /// Whether the group's force is known to lie below that of this stock.
    #[serde(default)]
    pub understates: bool,
    /// Whether the group is read for force only: its speeds are known to be too high.
    #[serde(default)]
    pub force_only: bool,
    /// On what the choice rests.
    #[serde(flatten)]
    pub origin: Provenance,
}

/// A state in which a stock is bought or met.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// What it is called.
    pub name: String,
    /// Hardness, from one or more sources.
    pub hardness: Vec<Sourced<Figure<Hardness>>>,
    /// Groups it is read in.
    pub groups: Vec<Group>,
}

/// One constituent of a layered stock.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// Id of the constituent.
    pub stock: String,
    /// Ids of constituents used in its place.
    #[serde(default, rename = "or")]
    pub alternatives: Vec<String>,
    /// Share by volume.
    pub share: Sourced<Figure<Ratio>>,
}

/// A stock.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Short name.
    pub id: String,
    /// Full name.
    pub name: String,
    /// What else it is called.
    #[serde(default)]
    pub also: Vec<String>,
    /// What it is, in words of the shop.
    pub plain: String,
    /// What it cuts like.
    pub class: Class,
    /// Group of ISO 513 as bought.
    pub iso_513: IsoGroup,
    /// Group of ISO 513 once hardened above 45 HRC.
    pub iso_513_hardened: Option<IsoGroup>,
    /// Standard designations.
    pub designations: Sourced<Designations>,
    /// Density.
    pub density: Sourced<Figure<Density>>,
    /// Constituents of a layered stock; empty for all others.
    #[serde(default)]
    pub layers: Vec<Layer>,
    /// States with their hardness, softest first.
    pub conditions: Vec<Condition>,
    /// How it behaves.
    #[serde(default)]
    pub notes: Vec<String>,
    /// What harms people: dust, fire, lead, nickel.
    #[serde(default)]
    pub cautions: Vec<String>,
}

impl Material {
    /// Every whole name and designation.
    pub(crate) fn called(&self) -> impl Iterator<Item = &str> {
        let d = &self.designations.value;
        let whole = [&d.aisi, &d.uns, &d.en].into_iter().flatten();
        let own = [&self.id, &self.name].into_iter().chain(&self.also);
        let whole = own.chain(whole).map(String::as_str);
        whole.chain(self.tokens())
    }

    /// What words are looked for in: its names, and each designation by itself.
    pub(crate) fn searched(&self) -> impl Iterator<Item = &str> {
        let own = [&self.id, &self.name].into_iter().chain(&self.also);
        own.map(String::as_str).chain(self.tokens())
    }

    /// Each designation by itself. Bare digits are one only where AISI or CDA print them so:
    /// the sheets of a standard on laminates are no steels.
    fn tokens(&self) -> impl Iterator<Item = &str> {
        let d = &self.designations.value;
        let en = d.en.iter().flat_map(|text| apart(text));
        let en = en.filter(|t| !t.bytes().all(|b| b.is_ascii_digit()));
        let bare = [&d.aisi, &d.uns].into_iter().flatten();
        let bare = bare.flat_map(|text| apart(text));
        bare.chain(en)
            .filter(|token| token.len() > 1 && !FILLERS.contains(token))
    }

    /// The groups of all its conditions.
    pub(crate) fn groups(&self) -> impl Iterator<Item = &Group> {
        self.conditions.iter().flat_map(|c| &c.groups)
    }

    /// Names of its conditions, for messages.
    pub(crate) fn condition_names(&self) -> String {
        self.conditions
            .iter()
            .map(|c| c.name.as_str())
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// Words between designations.
const FILLERS: &[&str] = &["near", "nearest", "formerly", "or", "withdrawn"];

/// The designations of a text, apart from one another.
fn apart(text: &str) -> impl Iterator<Item = &str> {
    let marks = |c: char| matches!(c, '(' | ')' | ':' | ';');
    text.split([' ', ',', '/'])
        .map(move |t| t.trim_matches(marks))
}

impl Tables {
    /// The stock called `name`: by id, AISI, UNS or EN designation, or a part of its name that
    /// fits no other.
    ///
    /// # Errors
    /// [`NotFound`] with all that fit when there are several, with those of the kind that the
    /// name reads like, or with those spelt most like it.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// assert_eq!(tables.material("G10950").unwrap().id, "1095");
    /// assert_eq!(tables.material("W.-Nr. 1.2379").unwrap().id, "D2");
    /// assert_eq!(tables.material("X 153 CrMoV 12").unwrap().id, "D2");
    /// assert_eq!(tables.material("wrought iron").unwrap().id, "WI");
    /// let error = tables.material("109").unwrap_err();
    /// assert!(error.offers[0].take == "1095");
    /// ```
    pub fn material(&self, name: &str) -> Result<&Material, NotFound> {
        stock_name::find(&self.materials, &self.called.stocks, name)
    }

    /// The stock of a layer, which loading has checked.
    pub(crate) fn constituent(&self, id: &str) -> Result<&Material, Unknown> {
        let by_id = |m: &&Material| m.id == id;
        self.materials.iter().find(by_id).ok_or_else(|| Unknown {
            needs: format!("there is no stock «{id}»"),
            nearest: None,
            advice: "name the layers".to_owned(),
        })
    }
}

pub(crate) fn list(materials: &[Material], out: &mut Vec<Listed>) {
    for m in materials {
        let subject = format!("{}: {}", m.id, m.name);
        let what = |condition: &str, quantity| {
            ("materials", subject.clone(), condition.to_owned(), quantity)
        };
        let density = &m.density;
        out.push(listed_figure(
            what("", "density"),
            &density.value,
            &density.origin,
        ));
        for layer in &m.layers {
            let what = what(&layer.stock, "share by volume");
            out.push(listed_figure(what, &layer.share.value, &layer.share.origin));
        }
        for condition in &m.conditions {
            for h in &condition.hardness {
                out.push(listed_figure(
                    what(&condition.name, "hardness"),
                    &h.value,
                    &h.origin,
                ));
            }
        }
    }
}
