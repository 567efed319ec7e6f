"""What the program remembers between two evenings: look, words, recent decks, window."""

from pathlib import Path

import platformdirs
from PySide6.QtCore import QByteArray, QSettings

APP = "spring-layout"
MOST_RECENT = 8


def data_folder() -> Path:
    """Where recovery files go: the user's data folder."""
    return Path(platformdirs.user_data_dir(APP, appauthor=False))


class Settings:
    """The settings file; every value has a default that needs no file.

    ``folder`` keeps the settings and the user's data together, for a test or a stick to carry.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.data = folder or data_folder()
        folder = folder or Path(platformdirs.user_config_dir(APP, appauthor=False))
        self.folder = folder
        self._kept = QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat)
        self._known: dict[str, str | None] = {}

    def text(self, key: str, default: str = "") -> str:
        """The text kept under ``key``."""
        if key not in self._known:  # asked for in every frame; the file is slow
            value = self._kept.value(key)
            self._known[key] = None if value is None else str(value)
        known = self._known[key]
        return default if known is None else known

    def flag(self, key: str, default: bool = False) -> bool:
        """The yes or no kept under ``key``."""
        return self.text(key, "yes" if default else "no") == "yes"

    def keep(self, key: str, value: str | bool | QByteArray) -> None:
        """Keeps ``value`` under ``key``."""
        if isinstance(value, bool):
            value = "yes" if value else "no"
        self._known.pop(key, None)
        self._kept.setValue(key, value)

    def blob(self, key: str) -> QByteArray | None:
        """The bytes kept under ``key``, such as the window's size."""
        value = self._kept.value(key)
        return value if isinstance(value, QByteArray) else None

    def flush(self) -> None:
        """Writes the file now."""
        self._kept.sync()

    @property
    def recent(self) -> list[Path]:
        """The decks opened last, latest first, that are still there."""
        paths = [Path(line) for line in self.text("recent").split("\n") if line]
        return [path for path in paths if path.is_file()]

    def opened(self, path: Path) -> None:
        """Puts ``path`` first among the recent decks."""
        path = path.resolve()
        rest = [other for other in self.recent if other != path]
        self.keep("recent", "\n".join(str(p) for p in [path, *rest][:MOST_RECENT]))

    def forget_recent(self) -> None:
        """Empties the list of recent decks."""
        self.keep("recent", "")
