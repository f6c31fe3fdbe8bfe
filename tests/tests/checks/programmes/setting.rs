//! What is known about a job, read from the file beside its programme.

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{Bounds, Drives, Planned, ProgrammeTool, Setting, ToolKind};
use feeds_core::quantity::mm;
use serde_json::Value;

pub(crate) fn read(value: &Value) -> Setting {
    let mut setting = Setting {
        step_bound: 20_000,
        ..Setting::default()
    };
    if let Some(tools) = value["tools"].as_array() {
        setting.tools = tools.iter().map(tool).collect();
    }
    if let Some(machine) = value.get("machine") {
        setting.spindle_speeds = machine.get("spindle_speeds").map(pair);
        setting.drives = drives(machine);
    }
    setting.stock = value.get("stock").map(bounds);
    setting.hold = value.get("hold").map(bounds).into_iter().collect();
    setting
}

fn tool(value: &Value) -> ProgrammeTool {
    ProgrammeTool {
        number: u32::try_from(value["number"].as_u64().unwrap()).unwrap(),
        kind: match value["kind"].as_str().unwrap() {
            "milling" => ToolKind::Milling,
            "drill" => ToolKind::Drill,
            "tap" => ToolKind::Tap,
            other => panic!("no kind of tool: {other}"),
        },
        cutter: CutterFacts {
            diameter: value["diameter_mm"].as_f64().map(mm),
            edges: value["edges"].as_u64().map(|z| u32::try_from(z).unwrap()),
            centre_cutting: value["can_plunge"].as_bool(),
            ..CutterFacts::default()
        },
        ramp_limit_deg: value["ramp_limit_deg"].as_f64(),
        chip_floor_mm: value["chip_floor_mm"].as_f64(),
        feed_band: value.get("feed_band").map(pair),
        most_cutting_speed: value["most_cutting_speed"].as_f64(),
        pitch_mm: value["pitch_mm"].as_f64(),
        asked: Vec::new(),
        planned: value["planned"]
            .as_array()
            .into_iter()
            .flatten()
            .map(planned)
            .collect(),
    }
}

fn planned(value: &Value) -> Planned {
    Planned {
        name: value["name"].as_str().unwrap_or_default().to_owned(),
        spindle_speed: value["spindle_speed"].as_f64().unwrap(),
        feed_speed: value["feed_speed"].as_f64().unwrap(),
        depth_mm: value["depth_mm"].as_f64(),
        ..Planned::default()
    }
}

fn drives(value: &Value) -> Drives {
    Drives {
        fastest: value.get("fastest").map(triple),
        acceleration: value.get("acceleration").map(triple),
        path_tolerance_mm: value["path_tolerance_mm"].as_f64().unwrap(),
        travel_mm: value.get("travel_mm").map(triple),
        ..Drives::default()
    }
}

fn bounds(value: &Value) -> Bounds {
    Bounds {
        least: triple(&value["least"]),
        most: triple(&value["most"]),
    }
}

fn pair(value: &Value) -> (f64, f64) {
    (value[0].as_f64().unwrap(), value[1].as_f64().unwrap())
}

fn triple(value: &Value) -> [f64; 3] {
    [0, 1, 2].map(|axis| value[axis].as_f64().unwrap())
}
