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

macro_rules! data {
    ($read:path, $file:literal) => {
        $read($file, include_str!(concat!("../data/", $file)))
    };
}

impl Tables {
    /// Reads every table from the data files built in.
    ///
    /// # Errors
    /// [`TableError`] names file and row of the first row that is malformed, has a unit of another
    /// quantity, no source, or a source, stock or layer nobody knows.
    pub fn load() -> Result<Self, TableError> {
        let tables = Self {
            sources: data!(load::rows, "sources.json")?,
            materials: data!(load::rows, "materials.json")?,
            kienzle: data!(load::rows, "kienzle.json")?,
            speed: data!(load::lists, "speed.json")?,
            feed: data!(load::rows, "feed.json")?,
            unit_power: data!(load::rows, "unit_power.json")?,
            edge_radius: data!(load::lists, "edge_radius.json")?,
            chip_floor: data!(load::rows, "chip_floor.json")?,
            depth_width: data!(load::rows, "depth_width.json")?,
            entry: data!(load::lists, "entry.json")?,
            feature: data!(load::lists, "feature.json")?,
            guides: data!(load::lists, "guides.json")?,
            conversion: data!(load::lists, "hardness.json")?,
            strength: data!(load::lists, "strength.json")?,
            life: data!(load::lists, "life.json")?,
            corrections: data!(load::lists, "corrections.json")?,
            force_laws: data!(load::lists, "force_law.json")?,
            friction: data!(load::rows, "friction.json")?,
            damping: data!(load::rows, "damping.json")?,
            coating: data!(load::lists, "coating.json")?,
            geometry: data!(load::rows, "geometry.json")?,
            machines: data!(load::rows, "machines.json")?,
            cutters: data!(load::rows, "cutters.json")?,
            holds: data!(load::rows, "holds.json")?,
            signs: data!(load::lists, "signs.json")?,
            softer: Softer::default(),
            called: CalledByKind::default(),
        };
        load::check_references(&tables)?;
        Ok(tables)
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
