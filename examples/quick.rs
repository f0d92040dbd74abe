use clothwright::nest::*;
use clothwright::shape::Outline;
use std::time::*;
struct W(Instant, std::sync::Mutex<(u32, f64)>);
impl Watch for W {
    fn report(&self, p: Progress) {
        let mut g = self.1.lock().unwrap();
        let t = self.0.elapsed().as_secs_f64();
        if g.0 == 0 || t > g.1 {
            if std::env::var("V").is_ok() {
                eprintln!("  spent {} {:.2}s len {:.2} dens {:.2}", p.spent, t, p.length.unwrap(), 100.0 * p.density.unwrap());
            }
            g.1 = t + 5.0;
        }
        g.0 += 1;
    }
}
fn main() {
    let mut args: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let secs: f64 = args.remove(0).parse().unwrap();
    let seeds: u64 = args.remove(0).parse().unwrap();
    for name in args {
        let v: serde_json::Value =
            serde_json::from_str(&std::fs::read_to_string(format!("/work/shared/datasets/{name}.json")).unwrap())
                .unwrap();
        let w = v["roll_width"].as_f64().unwrap();
        let pieces: Vec<Piece> = v["pieces"]
            .as_array()
            .unwrap()
            .iter()
            .map(|p| {
                let pts: Vec<(f64, f64)> = p["outline"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|q| (q[0].as_f64().unwrap(), q[1].as_f64().unwrap()))
                    .collect();
                let mut poly = geo_types::Polygon::new(pts.into(), vec![]);
                use geo::orient::*;
                poly = poly.orient(Direction::Default);
                let turns = match p["turns"].as_array() {
                    None => Turns::Any,
                    Some(a) => Turns::These { angles: a.iter().map(|x| x.as_f64().unwrap()).collect(), tilt: 0.0 },
                };
                Piece {
                    outline: Outline::new(poly).unwrap(),
                    quantity: p["quantity"].as_u64().unwrap() as u32,
                    turns,
                    flip: false,
                    cloths: None,
                }
            })
            .collect();
        let area: f64 = pieces.iter().map(|p| p.outline.area() * p.quantity as f64).sum();
        let task = Task {
            cloths: vec![Cloth {
                usable: [0.0, w],
                length: None,
                region: None,
                flaws: vec![],
                count: 1,
                price: 1.0,
                faces_alike: false,
            }],
            pieces,
            gap: 0.0,
        };
        let mut ds = vec![];
        for seed in 1..=seeds {
            let watch = W(Instant::now(), (0, 0.0).into());
            let lay = lay(
                &task,
                &Budget { seed, effort: std::env::var("E").map_or(u64::MAX / 1_000_000, |e| e.parse().unwrap()), time: Some(Duration::from_secs_f64(secs)) },
                &watch,
            )
            .unwrap();
            let d = 100.0 * area / (w * lay.cloths[0].length_used);
            ds.push(d); if std::env::var("E").is_ok() { println!("  {:.2}s", watch.0.elapsed().as_secs_f64()); } if std::env::var("E").is_ok() { println!("  {:.2}s", watch.0.elapsed().as_secs_f64()); }
        }
        println!(
            "{name}: avg {:.2} best {:.2}  {:?}",
            ds.iter().sum::<f64>() / ds.len() as f64,
            ds.iter().cloned().fold(0.0, f64::max),
            ds.iter().map(|d| (d * 100.0).round() / 100.0).collect::<Vec<_>>()
        );
    }
}
