//! All tables, read once from the data files.

use crate::chip_floor::FloorKey;
use crate::coating::Coatings;
use crate::corrections::Corrections;
use crate::cutter::CutterRow;
use crate::depth_width::GuidelineRow;
use crate::edge_radius::EdgeRadii;
use crate::entry::EntryRows;
use crate::error::TableError;
use crate::feature::FeatureRows;
use crate::feed::FeedRow;
use crate::force_law::ForceLaws;
use crate::friction::FrictionPair;
use crate::geometry::GeometryRow;
use crate::guides::GuideRows;
use crate::hardness::Conversion;
use crate::hold::HoldRow;
use crate::kienzle::KienzleRow;
use crate::life::Lives;
use crate::line::ShortRow;
use crate::load;
use crate::machine::MachineRow;
use crate::material::Material;
use crate::names::CalledByKind;
use crate::signs::Signs;
use crate::softer::Softer;
use crate::source::Source;
use crate::sourced::Sourced;
use crate::speed::Speeds;
use crate::strength::Strengths;
use crate::unit_power::UnitPowerRow;
use feeds_core::quantity::Ratio;
use std::sync::LazyLock;

/// All tables.
#[derive(Clone, Debug)]
pub struct Tables {
    /// Sources.
    pub sources: Vec<Source>,
    /// Stocks.
    pub materials: Vec<Material>,
    /// Specific cutting force.
    pub kienzle: Vec<KienzleRow>,
    /// Cutting speed.
    pub speed: Speeds,
    /// Feed per tooth.
    pub feed: Vec<FeedRow>,
    /// Energy over removed volume.
    pub unit_power: Vec<UnitPowerRow>,
    /// Edge radius.
    pub edge_radius: EdgeRadii,
    /// Least chip thickness over edge radius.
    pub chip_floor: Vec<ShortRow<Ratio, FloorKey>>,
    /// Depth and width of cut.
    pub depth_width: Vec<GuidelineRow>,
    /// Ramp, helix and plunge.
    pub entry: EntryRows,
    /// How features are cut: what is left, leads, loops.
    pub feature: FeatureRows,
    /// What is usual for depth, width and stick-out.
    pub guides: GuideRows,
    /// Hardness conversion.
    pub conversion: Conversion,
    /// Stiffness and strength of cutters.
    pub strength: Strengths,
    /// Exponents of tool life.
    pub life: Lives,
    /// Corrections of force and feed.
    pub corrections: Corrections,
    /// What classes of stocks add to their specific cutting force.
    pub force_laws: ForceLaws,
    /// Friction of jaws.
    pub friction: Vec<ShortRow<Ratio, FrictionPair>>,
    /// Damping.
    pub damping: Vec<ShortRow<Ratio>>,
    /// Coatings.
    pub coating: Coatings,
    /// Helix and rake.
    pub geometry: Vec<GeometryRow>,
    /// Generic machines.
    pub machines: Vec<Sourced<MachineRow>>,
    /// Generic cutters.
    pub cutters: Vec<Sourced<CutterRow>>,
    /// Ways to hold a part.
    pub holds: Vec<HoldRow>,
    /// What is heard and seen at the machine.
    pub signs: Signs,
    /// Which softer states of stocks cap others, as far as it was asked.
    pub(crate) softer: Softer,
    /// What stocks, machines, cutters and holds are called, as far as it was asked.
    pub(crate) called: CalledByKind,
}

macro_rules! files {
    ($($file:literal,)+) => {
        &[$(($file, include_str!(concat!("../data/", $file)))),+]
    };
}

/// The data files built in.
pub(crate) const FILES: &[(&str, &str)] = files![
    "sources.json",
    "materials.json",
    "kienzle.json",
    "speed.json",
    "feed.json",
    "unit_power.json",
    "edge_radius.json",
    "chip_floor.json",
    "depth_width.json",
    "entry.json",
    "feature.json",
    "guides.json",
    "hardness.json",
    "strength.json",
    "life.json",
    "corrections.json",
    "force_law.json",
    "friction.json",
    "damping.json",
    "coating.json",
    "geometry.json",
    "machines.json",
    "cutters.json",
    "holds.json",
    "signs.json",
];

impl Tables {
    /// Reads every table from the data files built in.
    ///
    /// # Errors
    /// [`TableError`] names file and row of the first row that is malformed, has a unit of another
    /// quantity or no source.
    pub fn load() -> Result<Self, TableError> {
        let text = |file| {
            let built_in = FILES.iter().find(|f| f.0 == file);
            built_in.map_or("", |f| f.1)
        };
        Ok(Self {
            sources: load::rows("sources.json", text("sources.json"))?,
            materials: load::rows("materials.json", text("materials.json"))?,
            kienzle: load::rows("kienzle.json", text("kienzle.json"))?,
            speed: load::lists("speed.json", text("speed.json"))?,
            feed: load::rows("feed.json", text("feed.json"))?,
            unit_power: load::rows("unit_power.json", text("unit_power.json"))?,
            edge_radius: load::lists("edge_radius.json", text("edge_radius.json"))?,
            chip_floor: load::rows("chip_floor.json", text("chip_floor.json"))?,
            depth_width: load::rows("depth_width.json", text("depth_width.json"))?,
            entry: load::lists("entry.json", text("entry.json"))?,
            feature: load::lists("feature.json", text("feature.json"))?,
            guides: load::lists("guides.json", text("guides.json"))?,
            conversion: load::lists("hardness.json", text("hardness.json"))?,
            strength: load::lists("strength.json", text("strength.json"))?,
            life: load::lists("life.json", text("life.json"))?,
            corrections: load::lists("corrections.json", text("corrections.json"))?,
            force_laws: load::lists("force_law.json", text("force_law.json"))?,
            friction: load::rows("friction.json", text("friction.json"))?,
            damping: load::rows("damping.json", text("damping.json"))?,
            coating: load::lists("coating.json", text("coating.json"))?,
            geometry: load::rows("geometry.json", text("geometry.json"))?,
            machines: load::rows("machines.json", text("machines.json"))?,
            cutters: load::rows("cutters.json", text("cutters.json"))?,
            holds: load::rows("holds.json", text("holds.json"))?,
            signs: load::lists("signs.json", text("signs.json"))?,
            softer: Softer::default(),
            called: CalledByKind::default(),
        })
    }

    /// Looks whether every source, stock and layer that a row names exists. A test asks it of the
    /// files built in, so that nobody waits for it at a start.
    ///
    /// # Errors
    /// [`TableError`] names file and row of the first that names another.
    pub fn check(&self) -> Result<(), TableError> {
        load::check_references(self)
    }

    /// The source with this id.
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.id == id)
    }
}

static TABLES: LazyLock<Result<Tables, TableError>> = LazyLock::new(Tables::load);

/// All tables, read once at the first call.
///
/// # Errors
/// [`TableError`] when a data file built in is broken; a test loads them all.
///
/// # Example
/// ```
/// let tables = reference_tables::tables().unwrap();
/// assert_eq!(tables.materials.len(), 40);
/// ```
pub fn tables() -> Result<&'static Tables, TableError> {
    TABLES.as_ref().map_err(Clone::clone)
}

#[cfg(test)]
mod tests {
    use super::Tables;

    #[test]
    fn every_source_stock_and_layer_that_a_row_names_exists() {
        Tables::load().unwrap().check().unwrap();
    }
}
