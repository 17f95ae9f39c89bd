"""The project: one ship folder, and everything that is made from it, each once and when first asked for."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from beltwright.app.progress import Progress, Silent

if TYPE_CHECKING:
    from beltwright.app.results import Results
    from beltwright.core.columns import ColumnTable
    from beltwright.core.findings import Finding
    from beltwright.hull.placing import PlacedHull
    from beltwright.rules.polar_code_imo_2017.icing import IcingAllowance
    from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season
    from beltwright.scantlings.explain import Explanation
    from beltwright.scantlings.ice_damage import IceDamage
    from beltwright.scantlings.offered import OfferedCheck
    from beltwright.ship.model import Ship
    from beltwright.sizing.certificate import Verdict
    from beltwright.sizing.front import Front
    from beltwright.sizing.study import Study
    from beltwright.store.folder import ShipFolder
    from beltwright.voyage.cold import ColdStudy
    from beltwright.voyage.study import RegimeStudy, RouteStudy
    from beltwright.weights.choice import ClassChoice
    from beltwright.weights.classes import ClassComparison

STAGES = ("reading the ship folder", "reading the hull", "measuring and sizing", "drawing and writing")


class Project:
    """A ship folder and its results.

    >>> project = Project("examples/quillan-frostmark")           # doctest: +SKIP
    >>> project.tables["hull areas"].values("thickness_most_mm")  # doctest: +SKIP

    Parameters
    ----------
    folder : the ship folder with ``ship.toml`` and the hull file
    progress : hears of each stage as it begins
    costs : a table of prices (the columns of prices.csv) that stands over those of ``ship.toml``

    Raises
    ------
    InputError : the folder, a field or a file is not usable; the message names it
    ScopeError : the ship lies outside what its rule set was written for
    """

    def __init__(
        self, folder: Path | str, *, progress: Progress | None = None, costs: Path | str | None = None
    ) -> None:
        self.folder = Path(folder)
        self._costs = None if costs is None else Path(costs)
        self._progress: Progress = progress or Silent()

    @cached_property
    def read(self) -> ShipFolder:
        """The ship folder as read, with the prices of a table of its own where one was given."""
        from beltwright.store.folder import open_folder

        self._stage(0)
        found = open_folder(self.folder)
        if self._costs is None:
            return found
        from beltwright.store.folder import read_text
        from beltwright.weights.costing import with_prices

        return replace(found, ship=with_prices(found.ship, read_text(self._costs), self._costs.name))

    @property
    def ship(self) -> Ship:
        """The ship as its user describes it."""
        return self.read.ship

    @cached_property
    def hull(self) -> PlacedHull:
        """The hull of the file, in ship axes, with what was detected and found."""
        read = self.read
        self._stage(1)
        from beltwright.app.hull_settings import settings_of
        from beltwright.hull.detect import load_hull
        from beltwright.hull.readers import ChildLimits

        settings, stop = settings_of(read.ship), threading.Event()
        with ThreadPoolExecutor(max_workers=1) as beside:
            reading = beside.submit(load_hull, read.hull_file, settings, limits=ChildLimits(stop=stop))
            try:
                _check(read.ship)
                return reading.result()
            except BaseException:
                stop.set()
                raise

    @cached_property
    def results(self) -> Results:
        """The results: the design, its weight, its findings, and where they come from."""
        from beltwright.app.results import Results
        from beltwright.scantlings.build import design_ship
        from beltwright.weights.steel import steel_weight

        read, hull = self.read, self.hull
        self._stage(2)
        design = design_ship(read.ship, read.loading_cases, hull)
        weight = steel_weight(design)
        return Results(design=design, weight=weight, inputs_sha256=read.inputs_fingerprint(hull.sha256))

    @property
    def tables(self) -> dict[str, ColumnTable]:
        """The results as named tables of named, unit-carrying columns."""
        return self.results.tables

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that was noticed."""
        return self.results.findings

    def explain(self, panel: str) -> Explanation:
        """Return why a plate panel has its thickness, and what would change it; an unknown name is an InputError."""
        from beltwright.scantlings.explain import explain_panel

        return explain_panel(self.results.design, panel)

    def explain_frame(self, frame: str) -> Explanation:
        """Return why a frame span has its section, and what would change it; an unknown name is an InputError."""
        from beltwright.scantlings.explain import explain_frame

        return explain_frame(self.results.design, frame)

    def explain_support(self, name: str) -> Explanation:
        """Return why a web frame span or stringer bay has its load, and its checks; an unknown name: InputError."""
        from beltwright.scantlings.support_story import explain_support

        return explain_support(self.results.design, name)

    def explain_appendage(self, name: str) -> Explanation:
        """Return why a plate of an appendage is asked for its steel grade; an unknown name is an InputError."""
        from beltwright.scantlings.grade_story import explain_appendage

        return explain_appendage(self.results.design, name)

    @cached_property
    def _classes(self) -> ClassComparison:
        """The ship under every class; hull and arrangement of the results are used if they are there already."""
        from beltwright.core.findings import Findings
        from beltwright.scantlings.build import prepare
        from beltwright.weights.classes import compare_classes

        read, hull = self.read, self.hull
        self._stage(2)
        made = self.__dict__.get("results")
        if made is not None:
            return compare_classes(read.ship, made.design.rules, made.design.measures, made.design.arrangement)
        return compare_classes(read.ship, *prepare(read.ship, read.loading_cases, hull, Findings()))

    def compare_classes(self) -> ClassComparison:
        """Return the ship under every class of its rule set, hull measured and arranged once; made when first asked.

        Plates and frames that ``ship.toml`` offers are left aside. A class outside the rules' scope, or one that
        nothing in stock meets, is a row with its reason.

        >>> made = project.compare_classes()                      # doctest: +SKIP
        >>> made.summary.values("modelled_t")                     # doctest: +SKIP
        """
        return self._classes

    def choose_class(
        self,
        route: Path | str | None = None,
        regimes: Path | str | None = None,
        *,
        season: Season | None = None,
        base: str | None = None,
    ) -> ClassChoice:
        """Return the classes of every registered document side by side for this ship: loads, weight, cost, power.

        ``route`` and ``regimes`` are tables of ice regimes with and without dates; with them each class says how often
        it may go, by POLARIS and as decision support. They are read before the hull. A class that cannot be designed is
        a row with its reason. ``base`` is the class that the others are compared with, the ship's own where not given.

        >>> made = project.choose_class("route.csv")              # doctest: +SKIP
        >>> made.table.labels("ice_class")                        # doctest: +SKIP
        """
        from beltwright.app.voyage import regimes_without_dates, route_with_dates
        from beltwright.core.findings import Findings
        from beltwright.scantlings.build import prepare
        from beltwright.weights.choice import check_base, choose_class

        read = self.read
        if base is not None:
            check_base(read.ship, base)
        along = None if route is None else route_with_dates(Path(route), read.ship.ice.ice_class, season)
        single = None if regimes is None else regimes_without_dates(Path(regimes))
        hull = self.hull
        self._stage(2)
        made = self.__dict__.get("results")
        if made is None:
            _, measures, arrangement = prepare(read.ship, read.loading_cases, hull, Findings())
        else:
            measures, arrangement = made.design.measures, made.design.arrangement
        return choose_class(read.ship, measures, arrangement, route=along, regimes=single, base=base)

    def write_choice(self, made: ClassChoice, folder: Path | None = None) -> Path:
        """Write a choice of class (tables, JSON, printed pages); returns the folder, ``choice`` by default."""
        from beltwright.report.choice import choice_documents
        from beltwright.store.folder import write_results

        self._stage(3)
        target = folder if folder is not None else self.folder / "choice"
        write_results(target, choice_documents(made, self.read.inputs_fingerprint(self.hull.sha256)))
        return target

    def write_classes(self, folder: Path | None = None) -> Path:
        """Write the comparison of classes (tables, JSON, printed pages); returns the folder, ``classes`` by default."""
        from beltwright.report.classes import class_documents
        from beltwright.store.folder import write_results

        read, hull, made = self.read, self.hull, self.compare_classes()
        self._stage(3)
        target = folder if folder is not None else self.folder / "classes"
        write_results(target, class_documents(made, read.inputs_fingerprint(hull.sha256)))
        return target

    def write(self, results: Path | None = None) -> Path:
        """Write booklet, drawings, tables and the machine-readable result; returns the results folder."""
        from beltwright.report.package import documents
        from beltwright.store.folder import write_results

        folder = results if results is not None else self.folder / "results"
        made = self.results
        self._stage(3)
        write_results(folder, documents(made.design, made.weight, made.inputs_sha256))
        return folder

    def check_offered(self, submitted: Path | str) -> OfferedCheck:
        """Return a submitted list of plates and frames judged by the rule; a file that cannot be read is an InputError.

        The list is read before the hull, so that a slip in the file is told at once.
        """
        from beltwright.scantlings.submitted import parse_submission
        from beltwright.store.folder import read_text

        path = Path(submitted)
        submission = parse_submission(read_text(path), path.name)
        from beltwright.scantlings.offered import check_offered

        return check_offered(self.results.design, submission)

    def write_offered(self, check: OfferedCheck, results: Path | None = None) -> Path:
        """Write the tables, the result and the short booklet of a checked list; returns the results folder."""
        from beltwright.report.offered import offered_documents
        from beltwright.store.folder import write_results

        folder = results if results is not None else self.folder / "offered"
        made = self.results
        self._stage(3)
        write_results(folder, offered_documents(check, made.design, made.weight, made.inputs_sha256))
        return folder

    def study_route(
        self, path: Path | str, *, season: Season | None = None, escort_planned: bool = False
    ) -> RouteStudy | RegimeStudy:
        """Return a route or a list of ice regimes studied for every class, with findings of the ship's own class.

        Decision support by POLARIS; only ``ship.toml`` is read of the ship. Raises InputError as ``app.voyage`` says.
        """
        from beltwright.app.voyage import study_route

        return study_route(path, ice_class=self.ship.ice.ice_class, season=season, escort_planned=escort_planned)

    def study_cold(
        self, path: Path | str, *, season: Season | None = None, accepted_data_reason: str = ""
    ) -> ColdStudy:
        """Return daily low temperatures studied, with the check of the polar service temperature in ``ship.toml``."""
        from beltwright.voyage.cold import cold_study

        return cold_study(
            Path(path),
            season=season,
            declared_service_temperature_degc=self.ship.cold.polar_service_temperature_degc,
            accepted_data_reason=accepted_data_reason,
        )

    @property
    def icing(self) -> IcingAllowance | None:
        """The icing allowance of the Polar Code; None where ``ship.toml`` names no surface that ices over."""
        from beltwright.weights.icing import icing_of

        return icing_of(self.ship)

    def ice_damage(self) -> IceDamage:
        """Return the extent of ice damage of the Polar Code, from the measured upper ice waterline."""
        from beltwright.core.findings import Findings
        from beltwright.scantlings.ice_damage import ice_damage
        from beltwright.scantlings.measure import measure_hull

        made = self.__dict__.get("results")
        if made is not None:
            return ice_damage(made.design.measures)
        read, hull = self.read, self.hull
        self._stage(2)
        return ice_damage(measure_hull(read.ship, read.loading_cases, hull, Findings()))

    def size(self, *, seconds: float = 600.0, stop: threading.Event | None = None) -> Study:
        """Return the least structure that meets every requirement, with its proof, saving and transitions.

        ``stop`` ends the search early with the best found. InputError where nothing meets, naming what stands against
        it.

        >>> made = project.size()                                 # doctest: +SKIP
        >>> made.sized.found.price, made.sized.found.bound        # doctest: +SKIP
        """
        from beltwright.sizing.study import study

        design = self.results.design
        self._stage(2)
        return study(design, self.read.loading_cases, heard=self._heard, stop=stop, seconds=seconds)

    def front(
        self, first: str, second: str, *, points: int | None = 7, seconds: float = 600.0,
        stop: threading.Event | None = None,
    ) -> Front:  # fmt: skip
        """Return the trade-off front between two objectives (mass, cost, co2, mix), each point proved.

        ``points`` is how many at most, None for every one; ``seconds`` is for each search. InputError where nothing
        meets.

        >>> made = project.front("mass", "cost")                  # doctest: +SKIP
        >>> [(point.first, point.second) for point in made.points]  # doctest: +SKIP
        """
        from beltwright.sizing.front import front

        design = self.results.design
        self._stage(2)
        return front(design, first, second, points=points, heard=self._heard, stop=stop, seconds=seconds)

    def write_front(self, made: Front, folder: Path | None = None) -> Path:
        """Write a front's tables, picture, page and certificates; returns the folder, ``front`` by default."""
        from beltwright.report.front import front_documents
        from beltwright.sizing.certificate import certificate
        from beltwright.store.folder import write_results

        inputs = self.results.inputs_sha256
        self._stage(3)
        target = folder if folder is not None else self.folder / "front"
        certificates = tuple(certificate(one, inputs) for one in made.sized)
        write_results(target, front_documents(made, certificates, inputs))
        return target

    def _heard(self, best: int | None, bound: int | None) -> None:
        """Tell how far a search is."""
        told = "searching"
        if best is not None:
            told += f": best {best:,}"
            if bound is not None and best > 0:
                told += f", bound {bound:,}, gap {100.0 * max(best - bound, 0) / best:.2f} %"
        self._progress.stage(told, 2, len(STAGES))

    def write_sizing(self, made: Study, folder: Path | None = None) -> Path:
        """Write the documents of the sized ship with a chapter on the search, its tables and its certificate.

        Returns the folder, ``sizing`` by default.
        """
        from beltwright.report.sizing import sizing_documents
        from beltwright.sizing.certificate import certificate
        from beltwright.store.folder import write_results
        from beltwright.weights.steel import steel_weight

        inputs = self.results.inputs_sha256
        self._stage(3)
        target = folder if folder is not None else self.folder / "sizing"
        weight = steel_weight(made.sized.design)
        write_results(target, sizing_documents(made, certificate(made.sized, inputs), weight, inputs))
        return target

    def certify(self, certificate: Path | str, *, seconds: float = 300.0) -> Verdict:
        """Return the verdict on a certificate of this ship; a file that is none is an InputError."""
        from beltwright.sizing.certificate import read_certificate
        from beltwright.sizing.certify import certify
        from beltwright.store.folder import read_text

        path = Path(certificate)
        made = read_certificate(read_text(path), path.name)
        return certify(made, self.results.design, self.results.inputs_sha256, seconds=seconds)

    def _stage(self, number: int) -> None:
        """Tell that a stage begins."""
        self._progress.stage(STAGES[number], number, len(STAGES))


def _check(ship: Ship) -> None:
    """Refuse a contradicting description and import what the next stages need, while a child process reads the hull."""
    from beltwright.core.findings import Findings
    from beltwright.scantlings.build import check_description
    from beltwright.weights.costing import prices_of

    check_description(ship, Findings())
    prices_of(ship)
    import beltwright.report.package  # noqa: F401
