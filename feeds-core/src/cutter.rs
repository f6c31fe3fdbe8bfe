//! The cutter: its shape, its material and how far it sticks out.

use crate::formula::Formula;
use crate::formula::allowed::{FlutesOut, Slenderness};
use crate::notebook::{Notebook, Silent};
use crate::quantity::{Angle, Length, Pressure};

/// The shape of the cutting end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// Square corners.
    Square,
    /// Rounded corners.
    Corner,
    /// A half sphere.
    Ball,
}

/// What the edges are made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CutterMaterial {
    /// Solid cemented carbide.
    Carbide,
    /// High-speed steel.
    Hss,
}

/// What covers the edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Coating {
    /// Nothing.
    None,
    /// Aluminium titanium nitride and its relatives.
    AlTiN,
    /// Titanium nitride.
    TiN,
    /// Titanium carbonitride.
    TiCN,
    /// Zirconium nitride.
    ZrN,
    /// Diamond-like carbon.
    Dlc,
    /// Diamond.
    Diamond,
}

macro_rules! words {
    ($kind:ty { $($variant:ident = $word:literal $(| $also:literal)*),+ $(,)? }) => {
        impl $kind {
            /// Every choice with the word it is shown and written as.
            pub const CHOICES: &'static [(&'static str, Self)] =
                &[$(($word, Self::$variant)),+];

            /// What else the trade calls a choice; read, never shown or written.
            pub const ALSO: &'static [(&'static str, Self)] =
                &[$($(($also, Self::$variant),)*)+];

            /// The word it is shown and written as.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The choice of that word, as it is written or as the trade calls it, in any letter
            /// case.
            pub fn of_word(word: &str) -> Option<Self> {
                Self::CHOICES
                    .iter()
                    .chain(Self::ALSO)
                    .find(|(w, _)| $crate::nearest::same(w, word))
                    .map(|&(_, choice)| choice)
            }
        }

        impl<'de> serde::Deserialize<'de> for $kind {
            fn deserialize<D: serde::Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
                let word = <std::borrow::Cow<'_, str>>::deserialize(reader)?;
                Self::of_word(&word).ok_or_else(|| {
                    let choices = [$($word),+].join(", ");
                    serde::de::Error::custom(format!("«{word}» is not one of: {choices}"))
                })
            }
        }
    };
}
pub(crate) use words;

words!(End {
    Square = "square" | "flat",
    Corner = "corner" | "corner radius" | "bull nose",
    Ball = "ball" | "ball nose",
});

impl End {
    /// The end that a corner radius makes: none is square, half the diameter a ball.
    ///
    /// # Example
    /// ```
    /// use feeds_core::cutter::End;
    /// use feeds_core::quantity::mm;
    /// assert_eq!(End::of_radius(mm(0.5), mm(6.0)), End::Corner);
    /// assert_eq!(End::of_radius(mm(3.0), mm(6.0)), End::Ball);
    /// ```
    pub fn of_radius(radius: Length, diameter: Length) -> Self {
        let share = 2.0 * (radius / diameter).value;
        match share {
            s if s <= 0.0 => Self::Square,
            s if (s - 1.0).abs() < 1e-6 => Self::Ball,
            _ => Self::Corner,
        }
    }
}

words!(CutterMaterial { Carbide = "carbide", Hss = "hss" });
words!(Coating {
    None = "none" | "uncoated" | "bright",
    AlTiN = "altin" | "tialn",
    TiN = "tin",
    TiCN = "ticn",
    ZrN = "zrn",
    Dlc = "dlc",
    Diamond = "diamond",
});

impl Coating {
    /// As the trade writes it.
    pub fn trade(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::AlTiN => "AlTiN",
            Self::TiN => "TiN",
            Self::TiCN => "TiCN",
            Self::ZrN => "ZrN",
            Self::Dlc => "DLC",
            Self::Diamond => "diamond",
        }
    }
}

/// A thinner stretch between the flutes and the shank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neck {
    /// Its diameter.
    pub diameter: Length,
    /// Its length.
    pub length: Length,
}

/// A cutter as it is clamped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cutter {
    /// Cutting diameter `D`, > 0.
    pub diameter: Length,
    /// Number of edges `z`, >= 1.
    pub edges: u32,
    /// Helix angle, 0 to 60°.
    pub helix: Angle,
    /// Shape of the end.
    pub end: End,
    /// Corner radius `r_e`, 0 to D/2; a ball has D/2, a square end 0.
    pub corner_radius: Length,
    /// What the edges are made of.
    pub material: CutterMaterial,
    /// What covers them.
    pub coating: Coating,
    /// Length of the flutes, > 0.
    pub flute_length: Length,
    /// From the holder's face to the tip, > 0.
    pub stick_out: Length,
    /// Shank diameter, > 0.
    pub shank: Length,
    /// Neck, if there is one.
    pub neck: Option<Neck>,
    /// Core diameter at the flutes' run-out, if it is known; else 0.65 D stands for it.
    pub core: Option<Length>,
    /// Cutting edge radius `r_β` when new, if it is known.
    pub edge_radius: Option<Length>,
    /// Edge radius that is usual for such a cutter, which measured edge forces are for.
    pub usual_edge_radius: Option<Length>,
    /// How far wear has rounded the edge: its radius over that when new, 1 or more.
    pub rounding: f64,
    /// Modulus of elasticity `E`.
    pub modulus: Pressure,
    /// Transverse rupture strength of the grade.
    pub rupture: Pressure,
    /// Whether an edge reaches the centre, so that it can be fed straight down; if it is known.
    pub centre_cutting: Option<bool>,
}

/// What is known of a cutter that nobody described in full.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CutterFacts {
    /// Cutting diameter `D`.
    pub diameter: Option<Length>,
    /// Number of edges `z`.
    pub edges: Option<u32>,
    /// Helix angle.
    pub helix: Option<Angle>,
    /// Shape of the end.
    pub end: Option<End>,
    /// Corner radius `r_e`.
    pub corner_radius: Option<Length>,
    /// Angle between the axis and an edge of its side; 0 of a straight cutter.
    pub taper: Option<Angle>,
    /// Length of the flutes.
    pub flute_length: Option<Length>,
    /// From the holder's face to the tip.
    pub stick_out: Option<Length>,
    /// Whether an edge reaches the centre, so that it can be fed straight down.
    pub centre_cutting: Option<bool>,
}

impl CutterFacts {
    /// These facts, and those of `other` where these say nothing.
    ///
    /// # Example
    /// ```
    /// use feeds_core::cutter::CutterFacts;
    /// let typed = CutterFacts { edges: Some(2), ..CutterFacts::default() };
    /// let planned = CutterFacts { edges: Some(4), centre_cutting: Some(true), ..typed };
    /// let both = typed.or(&planned);
    /// assert_eq!((both.edges, both.centre_cutting), (Some(2), Some(true)));
    /// ```
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        Self {
            diameter: self.diameter.or(other.diameter),
            edges: self.edges.or(other.edges),
            helix: self.helix.or(other.helix),
            end: self.end.or(other.end),
            corner_radius: self.corner_radius.or(other.corner_radius),
            taper: self.taper.or(other.taper),
            flute_length: self.flute_length.or(other.flute_length),
            stick_out: self.stick_out.or(other.stick_out),
            centre_cutting: self.centre_cutting.or(other.centre_cutting),
        }
    }
}

impl From<&Cutter> for CutterFacts {
    fn from(cutter: &Cutter) -> Self {
        Self {
            diameter: Some(cutter.diameter),
            edges: Some(cutter.edges),
            helix: Some(cutter.helix),
            end: Some(cutter.end),
            corner_radius: Some(cutter.corner_radius),
            // A pass is worked out for straight cutters alone.
            taper: Some(Angle::default()),
            flute_length: Some(cutter.flute_length),
            stick_out: Some(cutter.stick_out),
            centre_cutting: cutter.centre_cutting,
        }
    }
}

impl Cutter {
    /// Length of the fluted part that sticks out of the holder.
    pub fn fluted(&self) -> Length {
        let (flutes, stick_out) = (self.flute_length, self.stick_out);
        FlutesOut { flutes, stick_out }.value()
    }

    /// How slender it is: what sticks out of flutes and neck over the cutting diameter, or all that
    /// sticks out over the shank where that is more.
    ///
    /// A mill of 0.5 mm on a shank of 3 mm bends where it is thin, not where it is thick.
    pub fn slenderness(&self) -> f64 {
        self.slender(&mut Silent)
    }

    /// The same, with the steps that give it.
    pub(crate) fn slender(&self, notes: &mut impl Notebook) -> f64 {
        let out = notes.take(FlutesOut {
            flutes: self.flute_length,
            stick_out: self.stick_out,
        });
        notes.take(Slenderness {
            out,
            neck: self.neck.map(|neck| neck.length).unwrap_or_default(),
            stick_out: self.stick_out,
            d: self.diameter,
            shank: self.shank,
        })
    }

    /// Half the cutting diameter.
    pub fn radius(&self) -> Length {
        self.diameter / 2.0
    }
}
