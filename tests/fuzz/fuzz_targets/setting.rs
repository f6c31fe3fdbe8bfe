//! What is known while any bytes are read.

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{
    Bounds, Drives, Planned, PlannedFloor, PlannedPath, PlannedWayIn, ProgrammeTool, Setting,
    ToolKind,
};
use feeds_core::quantity::mm;

/// Few steps, so that loops end soon; tools, machine, stock and hold where they are `known`.
pub(crate) fn setting(known: bool) -> Setting {
    let mut setting = Setting {
        step_bound: 500,
        ..Setting::default()
    };
    if known {
        let tool = |number, kind| ProgrammeTool {
            number,
            kind,
            cutter: CutterFacts {
                diameter: Some(mm(4.0)),
                edges: Some(3),
                centre_cutting: Some(false),
                ..CutterFacts::default()
            },
            ramp_limit_deg: Some(3.0),
            chip_floor_mm: Some(0.002),
            feed_band: Some((0.004, 0.03)),
            most_cutting_speed: Some(120.0),
            pitch_mm: Some(0.7),
            asked: Vec::new(),
            planned: vec![Planned {
                name: String::new(),
                spindle_speed: 8000.0,
                feed_speed: 300.0,
                depth_mm: Some(0.5),
                path: PlannedPath {
                    way_in: Some(PlannedWayIn::Ramp { degrees: 2.0 }),
                    begins_mm: Some(0.1),
                    floor: Some(PlannedFloor {
                        least_mm: 1.0,
                        most_mm: 1.2,
                    }),
                    width_mm: Some(1.0),
                },
                setup: None,
            }],
        };
        setting.tools = vec![tool(1, ToolKind::Milling), tool(2, ToolKind::Tap)];
        setting.spindle_speeds = Some((500.0, 9000.0));
        setting.drives = Drives {
            fastest: Some([2000.0, 2000.0, 1000.0]),
            acceleration: Some([200.0, 200.0, 100.0]),
            path_tolerance_mm: 0.01,
            look_ahead: 20,
            travel_mm: Some([300.0, 150.0, 200.0]),
        };
        setting.stock = Some(Bounds {
            least: [-20.0, -10.0, -9.0],
            most: [20.0, 10.0, 0.0],
        });
        setting.hold = vec![Bounds {
            least: [-30.0, -30.0, -40.0],
            most: [30.0, -10.0, -4.0],
        }];
    }
    setting
}
