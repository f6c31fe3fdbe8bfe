//! Layered stock: the states of its constituents.

use crate::error::Unknown;
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::Quantity;

impl Tables {
    /// The constituents of a layered stock, each at the hardness of the billet, with its share by
    /// volume. Empty for any other stock.
    ///
    /// # Errors
    /// [`Unknown`] when a constituent has no row at that hardness scale.
    ///
    /// # Example
    /// ```
    /// use reference_tables::tables;
    /// let tables = tables().unwrap();
    /// let billet = tables.material("layered").unwrap();
    /// let state = tables.state(billet, Some("annealed"), None).unwrap();
    /// let layers = tables.layers(&state).unwrap();
    /// assert_eq!(layers[1].0.material.id, "15N20");
    /// ```
    pub fn layers<'t>(
        &'t self,
        state: &StockState<'t>,
    ) -> Result<Vec<(StockState<'t>, f64)>, Unknown> {
        let layers = state.material.layers.iter();
        layers
            .map(|layer| {
                let stock = self.constituent(&layer.stock)?;
                let state = self.state(stock, None, Some(state.hardness))?;
                Ok((state, layer.share.value.band().start.si()))
            })
            .collect()
    }
}
