use clothwright::nest::*;
use clothwright::shape::*;
use std::time::*;
struct W(Instant, std::sync::Mutex<(u32,f64)>);
impl Watch for W { fn report(&self, p: Progress) { let mut g=self.1.lock().unwrap(); let t=self.0.elapsed().as_secs_f64(); if g.0==0 || t>g.1 { eprintln!("  {:.2}s len {:.2} dens {:.2}", t, p.length.unwrap(), 100.0*p.density.unwrap()); g.1=t+5.0;} g.0+=1; } }
fn main() {
    let a: Vec<String> = std::env::args().skip(1).filter(|a| a!="--bench").collect();
    let n: u32 = a[0].parse().unwrap(); let kinds: u32 = a[1].parse().unwrap(); let secs: f64 = a[2].parse().unwrap();
    let mut s: u64 = 12345; let mut r = |lo: f64, hi: f64| { s = s.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407); lo + (hi-lo)*((s>>33) as f64/(1u64<<31) as f64) };
    let mut pieces = vec![];
    for k in 0..kinds {
        let c = match k % 5 { 0 => Curve::circle(r(50.0,180.0)), 1 => Curve::rect(r(40.0,300.0), r(40.0,200.0)), 2 => Curve::ring(r(120.0,200.0), r(60.0,100.0)), 3 => { let (w,h)=(r(80.0,300.0),r(80.0,200.0)); Curve::polygon(&[[0.0,0.0],[w,0.0],[w,h*0.4],[w*0.4,h*0.4],[w*0.4,h],[0.0,h]],&[]) }, _ => { let (w,h)=(r(80.0,300.0),r(80.0,200.0)); Curve::polygon(&[[0.0,0.0],[w,0.0],[w*0.3,h]],&[]) } };
        pieces.push(Piece { outline: c.flatten().unwrap(), quantity: n/kinds, turns: Turns::These{angles: vec![0.0,90.0,180.0,270.0], tilt: 0.0}, flip: false, cloths: None });
    }
    let area: f64 = pieces.iter().map(|p| p.outline.area()*p.quantity as f64).sum();
    let task = Task { cloths: vec![Cloth { usable: [10.0, 1770.0], length: None, region: None, flaws: vec![], count: 1, price: 1.0, faces_alike: false }], pieces, gap: a.get(3).map_or(0.0, |g| g.parse().unwrap()) };
    let t = Instant::now();
    let lay = lay(&task, &Budget { seed: 1, effort: u64::MAX/1_000_000, time: Some(Duration::from_secs_f64(secs)) }, &W(Instant::now(), (0,0.0).into())).unwrap();
    println!("n {n} kinds {kinds}: {:.2}s length {:.0} density {:.2}", t.elapsed().as_secs_f64(), lay.cloths[0].length_used, 100.0*area/(1760.0*lay.cloths[0].length_used));
}
