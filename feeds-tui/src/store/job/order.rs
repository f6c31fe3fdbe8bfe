//! Another order of the passes.

use super::Job;

impl Job {
    /// Puts the passes in another order: `order` says for each place which pass stands there now.
    /// One may stand there twice, or be left out.
    ///
    /// Where `follows` is a number, it goes on meaning the same pass.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::store::job::{Job, Pass};
    /// let mut job = Job::default();
    /// for (name, follows) in [("pocket", ""), ("outline", ""), ("corners", "1")] {
    ///     let mut pass = Pass::new(name, Default::default());
    ///     pass.set("follows", follows).unwrap();
    ///     job.passes.push(pass);
    /// }
    /// job.arrange(&[1, 0, 2]);
    /// assert_eq!(job.passes[0].name, "outline");
    /// assert_eq!(job.passes[2].follows, "2");
    /// ```
    pub fn arrange(&mut self, order: &[usize]) {
        let passes = order.iter().filter_map(|&at| self.passes.get(at).cloned());
        let mut passes: Vec<_> = passes.collect();
        for pass in &mut passes {
            let Ok(number) = pass.follows.trim().parse::<usize>() else {
                continue;
            };
            let place = order.iter().position(|&at| at + 1 == number);
            pass.follows = place.map_or_else(String::new, |place| (place + 1).to_string());
        }
        self.passes = passes;
    }
}
