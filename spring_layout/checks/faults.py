"""What is the same for every place where one fault is found: its code, its mend, its source."""

from dataclasses import dataclass

from spring_layout.planning.finding import Finding, Severity, Stage


@dataclass(frozen=True)
class Fault:
    """One kind of fault; ``limit`` is in what its findings' values are in: mm, degrees, a share."""

    code: str
    severity: Severity
    stage: Stage
    mend: str
    source: str
    limit: float | None = None

    def found(
        self,
        message: str,
        value: float | None,
        springs: tuple[str, ...],
        place: tuple[float, float] | None,
        *,
        lines: tuple[int, ...] = (),
        sides: tuple[int, ...] = (),
        limit: float | None = None,
    ) -> Finding:
        """The finding about one place of it, mm; ``limit`` where it has one of its own."""
        return Finding(
            code=self.code,
            severity=self.severity,
            stage=self.stage,
            message=message,
            mend=self.mend,
            source=self.source,
            springs=springs,
            lines=lines,
            sides=sides,
            value=value,
            limit=self.limit if limit is None else limit,
            place=place,
        )
