//! The stock cut behind a lane: whoever looks along the way, all of it, half of it or none left to
//! the one the batches come back to, every station and every number is the same, to the last bit.

use super::{All, Correction, Report, Setting, planned, programme};
use feeds_core::programme::{
    Ceiling, CutStation, Drives, Reader, Simulated, StockBatch, StockLane, StockStage,
};
use feeds_core::quantity::mm;
use std::fmt::Write as _;

/// Cuts at once, and leaves a share of the looks; gives batches back one too late.
#[derive(Debug)]
struct Leaves {
    stage: StockStage,
    share: f64,
    kept: Option<StockBatch>,
}

impl StockLane for Leaves {
    fn pass(&mut self, mut batch: StockBatch) -> Option<StockBatch> {
        batch.leave(self.share);
        let cut = self.stage.pass(batch)?;
        self.kept.replace(cut)
    }

    fn rest(&mut self) -> Option<StockBatch> {
        self.kept.take()
    }

    fn finish(self: Box<Self>) -> StockStage {
        self.stage
    }
}

fn told(text: &str, setting: &Setting, share: Option<f64>) -> (Report, Vec<CutStation>) {
    let lane = |stage| -> Box<dyn StockLane> {
        match share {
            None => Box::new(stage),
            Some(share) => Box::new(Leaves {
                stage,
                share,
                kept: None,
            }),
        }
    };
    let mut reader = Reader::beside(setting.clone(), All::default(), lane);
    text.as_bytes()
        .chunks(200)
        .for_each(|part| reader.feed(part));
    let (report, all) = reader.finish_watched();
    (report, all.0)
}

/// Passes of a millimetre each beside each other, with arcs, rapid moves and a plunge between.
fn moves() -> String {
    let mut moves = "G0 X45\nY-1.5\nZ-1\nG1 X40 F80".to_owned();
    for k in 0..60 {
        let _ = write!(
            moves,
            "\nX{:.1} Y{:.2}",
            39.5 - 0.6 * f64::from(k),
            -1.5 + 0.1 * f64::from(k % 9)
        );
    }
    moves += "\nG0 Z2\nX20 Y8\nG1 Z-1.2 F40\nG3 X20 Y8 I3 J0 F90\nG2 X24 Y12 I4 J0\nG0 Z3";
    moves += "\nX5 Y15 Z-0.5\nX9";
    for k in 0..40 {
        let _ = write!(
            moves,
            "\nG1 X{:.2} Z-{:.3} F100",
            9.0 + 0.5 * f64::from(k),
            0.5 + 0.01 * f64::from(k)
        );
    }
    moves
}

#[test]
fn whoever_looks_sees_the_same() {
    let mut setting = planned(&super::pass());
    setting.drives = Drives {
        fastest: Some([1500.0, 1500.0, 800.0]),
        acceleration: Some([300.0, 300.0, 150.0]),
        ..Drives::default()
    };
    // How high the stock stands beside the cutter counts as well.
    setting.tools[0].cutter.flute_length = Some(mm(0.8));
    setting.tools[0].cutter.stick_out = Some(mm(9.0));
    setting.simulate = Some(Simulated {
        cell_mm: Some(0.1),
        correction: Some(Correction {
            ceiling: Ceiling::Force(90.0),
            up: true,
            split: Some(1.0),
        }),
        views: true,
    });
    let text = programme(&moves());
    let (report, stations) = told(&text, &setting, None);
    assert!(stations.len() > 300 && stations.iter().any(CutStation::cuts));
    assert!(report.findings.iter().any(|f| f.code == "shank-in-stock"));
    for share in [0.3, 0.5, 1.0] {
        let (other, looks) = told(&text, &setting, Some(share));
        assert_eq!(looks.len(), stations.len(), "{share}");
        for (a, b) in looks.iter().zip(&stations) {
            assert_eq!(format!("{a:?}"), format!("{b:?}"), "{share}");
        }
        assert_eq!(format!("{other:?}"), format!("{report:?}"), "{share}");
    }
}
