"""Visits as facts, made check by check with the judges themselves: for records that have something of everything."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from assistant.dialogue import facts as f
from assistant.job.ledger import Entry
from assistant.job.memory import KnownSite, KnownUnit, Measured, PastVisit
from assistant.job.plate import Plate
from assistant.language.meaning import Finding, Heard, Reading, Readings, Text
from assistant.language.units import to_canonical
from assistant.library.loader import Library
from assistant.messages.catalogue import catalogue
from assistant.reasoning.judges import judge
from assistant.visit.journal import Journal, Stamped, VisitRow

AT = datetime(2026, 3, 4, 9, 30)


@dataclass
class Told:
    """A visit being told: every method adds the facts that the dialogue would have committed."""

    library: Library
    profile: str = "copper-wren-solo"
    facts: list = field(default_factory=list)
    numbers: int = 0
    at: datetime = AT

    def __post_init__(self):
        self.add(f.VisitOpened(library="test", technician="Rosa Lind"))

    def add(self, *facts, minutes=0.25):
        for fact in facts:
            self.at += timedelta(minutes=minutes)
            self.facts.append((self.at, fact))
        return self

    def arrive(self, site="the bakery in Mill Lane", symptom="no-communication"):
        self.add(f.StepRemembered(), f.Noted(topic="site", value=site, words=site))
        self.add(f.Noted(topic="profile", value=self.profile), f.StageEntered(stage="indication"))
        self.add(f.IndicationNoted(symptom=symptom, words="it is dead"), f.StageEntered(stage="check"))
        return self

    def check(self, check_id, role="diagnosis", assumed=False, **answers):
        """One check answered: a choice as a string, a number in the question's unit, or a dict of places."""
        check = self.library.checks[check_id]
        self.add(f.CheckStarted(check=check_id, role=role, reason="It tells most."))
        self.add(f.CheckDescribed(check=check_id, energy="live"))
        taken: dict = {}
        numbers: list[int] = []
        for question in check.ask:
            given = answers[question.key.replace("-", "_")]
            if isinstance(given, str) and question.choices:
                taken[question.key] = Finding(choice=given)
                numbers.append(self.answer(check_id, question.key, taken[question.key], given))
                continue
            if isinstance(given, str):
                taken[question.key] = Text(words=given)
                numbers.append(self.answer(check_id, question.key, taken[question.key], given))
                continue
            values = given if isinstance(given, dict) else {None: given}
            items = []
            for place, value in values.items():
                wanted = question.reading
                item = Reading(
                    quantity=wanted.quantity, value=to_canonical(value, wanted.unit, wanted.quantity),
                    spoken_value=value, spoken_unit=wanted.unit, unit_assumed=assumed, place=place, words=str(value),
                )  # fmt: skip
                items.append(item)
                numbers.append(self.answer(check_id, question.key, item, str(value), place))
            taken[question.key] = Readings(items=tuple(items))
        judgement = judge(check, taken, self.library, self.library.profiles.get(self.profile))
        self.add(f.CheckJudged(check=check_id, role=role, answers=tuple(numbers), judgement=judgement))
        self.say(catalogue().in_words(judgement.says, self.library))
        return self

    def answer(self, check, question, answer, words, place=None):
        self.numbers += 1
        heard = Heard(words=words, meaning=None, trust="sure", ears=(("whisper", words), ("phoneme", words)))
        self.add(f.WordsHeard(heard=heard))
        self.add(
            f.AnswerGiven(
                number=self.numbers, check=check, question=question, place=place, answer=answer, how="two ears",
                words=words, probability=0.98, ears=(("whisper", words), ("phoneme", words)),
            )
        )  # fmt: skip
        return self.numbers

    def say(self, text, about="result"):
        return self.add(f.Said(text=text, about=about))

    def lock(self):
        for caution in ("lock-and-tag", "ladder"):
            if caution in self.library.precautions:
                self.add(f.PrecautionGiven(precaution=caution, waits=True, place="outdoor"))
                self.add(f.PrecautionAcknowledged(precaution=caution))
        return self.add(f.EnergyChanged(to="isolated", because="Lock out the power: done"))

    def prove_dead(self, place="outdoor", seconds=180.0):
        self.add(f.CheckStarted(check="prove-dead", role="changeover"))
        self.add(f.WaitStarted(seconds=seconds, until_s=0.0))
        self.add(f.WaitEnded(), minutes=4)
        self.add(f.VoltageMeasured(place=place, what="mains", volts=0.1, absent=True, at_s=0.0))
        self.add(f.VoltageMeasured(place=place, what="stored", volts=3.8, absent=True, at_s=0.0))
        self.add(f.RunDropped(check="prove-dead"))
        return self.add(f.EnergyChanged(to="proved-dead", because="Prove the bus dead: dead", place=place))

    def live(self):
        return self.add(f.EnergyChanged(to="live", because="Switch the power on again: done"))

    def hold(self, minutes=7):
        self.add(f.Held(by="wait"))
        return self.add(f.Released(), minutes=minutes)

    def name(self, suspect, probability=0.97, reason="The sensor reads far off its curve."):
        return self.add(f.FaultNamed(suspect=suspect, probability=probability, reason=reason))

    def mend(self, suspect, words, proof="proved"):
        self.add(f.RepairDescribed(suspect=suspect), f.RepairDone(suspect=suspect, done=True), minutes=6)
        self.add(f.Noted(topic="repair", value=words, words=words))
        self.add(f.ProofBegun(suspect=suspect, checks=()))
        self.settled = f.ProofSettled(suspect=suspect, proof=proof)
        return self

    def prove(self):
        return self.add(self.settled)

    def close(self, note="Wash the filter every month.", outcome="mended"):
        self.add(f.Noted(topic="customer", value=note, words=note))
        return self.add(f.VisitClosed(outcome=outcome))

    def stamped(self):
        start = self.facts[0][0]
        return [
            Stamped(seq, at, (at - start).total_seconds(), fact) for seq, (at, fact) in enumerate(self.facts, start=1)
        ]

    def row(self):
        closed = any(isinstance(fact, f.VisitClosed) for _, fact in self.facts)
        return VisitRow("2026-03-04-1", AT, "typed", facts=len(self.facts), closed=closed)

    def journal(self, path, origin="typed"):
        """The same visit in a journal file; gives the journal and the visit's id."""
        journal = Journal(path)
        visit = journal.open_visit(AT, origin)
        for item in self.stamped():
            journal.append(visit, item.at, item.at_s, [item.fact])
        return journal, visit


def sensor_visit(library: Library) -> Told:
    """A drifted pipe sensor, found among windings, diodes and gauges, exchanged and proved; one hold, two lock-outs."""
    told = Told(library).arrive(symptom="sensor-indication")
    told.check("supply-volts", voltage=229.0)
    told.check("circuit-superheat", pressure=812.0, line=9.5)
    told.check("circuit-subcooling", pressure=2620.0, line=36.0)
    told.lock().prove_dead()
    told.check("winding-resistance", resistances={"u-v": 0.82, "v-w": 0.83, "w-u": 0.82}, meter="low-ohm")
    told.check("module-diodes", upper={"u": 0.46, "v": 0.47, "w": 0.46}, lower={"u": 0.46, "v": 0.45, "w": 0.46})
    told.hold()
    told.check("pipe-sensor-resistance", temperature=21.0, resistance=19.4, assumed=True)
    told.name("pipe-sensor-drifted").mend("pipe-sensor-drifted", "new pipe sensor from the van, clipped in its pocket")
    told.check("pipe-sensor-resistance", "proof", temperature=21.5, resistance=11.0)
    told.live().prove()
    return told.close()


def job_visit(library: Library) -> Told:
    """The sensor's visit within a job: customer, plate, ledger, earlier visits of the unit, signature and photo."""
    told = sensor_visit(library)
    plate = Plate(
        id="sn-1",
        name="server room",
        make="Copper Wren",
        model="Solo",
        serial="SN 1",
        refrigerant="R32",
        charge_kg=12.0,
    )
    measured = Measured(key="supply-volts.voltage", title="Supply", value=231.0, said="231 V")
    past = tuple(
        PastVisit(visit=f"{on}-1", on=on, measured=(measured.model_copy(update={"value": value}),))
        for on, value in (("2025-03-01", 226.0), ("2024-02-20", 231.0))
    )
    site = KnownSite(
        name="the bakery", customer="Lind & Daughters", place="eu", units=(KnownUnit(plate=plate, past=past),)
    )
    first = [
        f.SiteRecalled(site=site), f.JobSet(visit_kind="repair", customer="Lind & Daughters"), f.PlateKept(plate=plate),
    ]  # fmt: skip
    entries = [
        Entry(what="part", text="pipe sensor", count=1, source="the van"), Entry(what="part", text="clip", count=2),
        Entry(what="recovered", kg=0.4, spoken="0.4 kg", cylinder="seven"),
        Entry(what="charged", kg=1.2, spoken="1.2 kg", cylinder="seven"),
        Entry(what="note", text="ladder from the yard"),
        Entry(what="photo", text="the plate"), Entry(what="travel", minutes=40),
    ]  # fmt: skip
    lines = [f.LedgerNoted(number=n, entry=entry, at_s=60.0 * n) for n, entry in enumerate(entries, start=1)]
    start = told.facts[0][0]
    told.facts[0] = (start, f.VisitOpened(library="test", technician="Rosa Lind", on="2026-03-04"))
    told.facts[1:1] = [(start, fact) for fact in first]
    told.facts[8:8] = [(told.facts[7][0], fact) for fact in (*lines, f.LedgerStruck(number=2))]
    told.add(f.Signed(name="A. Lind", role="customer"))
    return told
