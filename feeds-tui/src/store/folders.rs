//! Where files are kept: the base directories of the XDG specification.

use std::env;
use std::path::PathBuf;

/// Folders of this program; one is missing when nothing says where it would be.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Folders {
    /// What people set up.
    pub config: Option<PathBuf>,
    /// What people made: the shop.
    pub data: Option<PathBuf>,
    /// What the program remembers: drafts.
    pub state: Option<PathBuf>,
}

impl Folders {
    /// As the environment says.
    pub fn here() -> Self {
        Self::of(|name| env::var_os(name).map(PathBuf::from))
    }

    /// As `variable` says; folders that are not absolute do not count.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::store::folders::Folders;
    /// let folders = Folders::of(|name| (name == "HOME").then(|| "/home/ada".into()));
    /// assert_eq!(folders.shop(), Some("/home/ada/.local/share/feeds/shop.json".into()));
    /// assert_eq!(Folders::of(|_| None), Folders::default());
    /// ```
    pub fn of(variable: impl Fn(&str) -> Option<PathBuf>) -> Self {
        let absolute = |name: &str| variable(name).filter(|p| p.is_absolute());
        let folder = |name: &str, below_home: &str| {
            let base = absolute(name).or_else(|| Some(absolute("HOME")?.join(below_home)))?;
            Some(base.join("feeds"))
        };
        Self {
            config: folder("XDG_CONFIG_HOME", ".config"),
            data: folder("XDG_DATA_HOME", ".local/share"),
            state: folder("XDG_STATE_HOME", ".local/state"),
        }
    }

    /// The shop, unless another is given.
    pub fn shop(&self) -> Option<PathBuf> {
        Some(self.data.as_ref()?.join("shop.json"))
    }

    /// Where drafts are kept.
    pub fn drafts(&self) -> Option<PathBuf> {
        Some(self.state.as_ref()?.join("drafts"))
    }
}
