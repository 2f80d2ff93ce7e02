"""Write many full-size forms, for measuring: invented towers of ten bells, every section filled in.

The same seed gives the same forms, byte for byte.
Run: ``python benchmarks/make_forms.py FOLDER --forms 2000``.
"""

import argparse
import random
from pathlib import Path

BELLS = 10
IN_MM = 25.4


def form_text(number: int, seed: int = 1, bells: int = BELLS) -> str:
    """Write form ``number``: one visit to a tower of its own."""
    chance = random.Random(f"{seed}-{number}")
    tower = f"tower-{number:06d}"
    day = f"{chance.randint(1990, 2024)}-{chance.randint(1, 12):02d}-{chance.randint(1, 28):02d}"
    lines = [_head(chance, tower, day)]
    largest_mm = chance.uniform(700.0, 1900.0)
    lines += [_bell(chance, tower, place, bells, largest_mm) for place in range(1, bells + 1)]
    lines.append(_tail(chance, tower, bells))
    return "".join(lines)


def _head(chance: random.Random, tower: str, day: str) -> str:
    latitude_deg, longitude_deg = chance.uniform(-55.0, 65.0), chance.uniform(-179.0, 179.0)
    return f"""form: soundbow survey 1

survey:
  id: {tower}-{day}
  kind: visit
  date: {day}
  surveyors: [Ada Invented, "Béla Invented"]
  purpose: Periodical inspection, form {tower} of a measurement
  weather: dry, light wind from the west
  temperature_c: {chance.randint(-5, 30)}
  instruments:
    - {{kind: tape, name: steel tape 5 m, tolerance_mm: 1, checked: {day[:4]}}}
    - {{kind: caliper, name: outside caliper 400 mm, tolerance_mm: 0.3, checked: {day[:7]}}}
    - {{kind: recorder, name: recorder and microphone, tolerance_hz: 0.2}}
  not_inspected:
    - {{part: mass, reason: no means of weighing}}
    - {{part: staple, reason: "chamber dark, lamp failed"}}
  language: en
  remarks: |
    The bells were rung one by one after the inspection.
    Nobody was among them while they moved.

tower:
  id: {tower}
  name: Invented tower {tower[-6:]}
  place: Invented place {chance.randint(1, 500)}
  latitude_deg: {latitude_deg:.5f}
  longitude_deg: {longitude_deg:.5f}
  accuracy_m: 5
  country: FR
  owner: Parish of nowhere
  contact: office of nowhere
  protection: protected
  protection_source: invented list, no. {chance.randint(1, 9999)}
  natural_frequency_hz: {chance.uniform(0.8, 3.0):.2f}
  access: |
    88 steps of stone, then two ladders, trapdoor 60 by 70 cm.

frame:
  material: oak
  built: {chance.randint(1600, 1900)}, maker unknown
  places: {BELLS + 2}
  bearings_on: two corbels and two beams
  moves_when_ringing: yes
  movement_mm: {chance.uniform(0.5, 6.0):.1f}
  loose_joints: no
  decay: slight
  remarks: Two wedges driven in on the north side.

hazards:
  - {{kind: ladder, where: second floor, remark: One rung is loose.}}
  - {{kind: droppings, where: bell chamber, remark: Masks and gloves needed.}}

bells:
"""


def _length(chance: random.Random, mm: float) -> str:
    """Write a length as surveyors do: bare, in millimetres, in centimetres or in inches."""
    return chance.choice(
        (
            f"{mm:.1f}",
            f"{mm:.0f} mm",
            f"{mm / 10:.1f} cm",
            f"{int(mm / IN_MM)} {int(mm / IN_MM % 1 * 8)}/8 in",
        )
    )


def _bell(chance: random.Random, tower: str, place: int, bells: int, largest_mm: float) -> str:
    mouth_mm = largest_mm * 2 ** (-(bells - place) / 12)
    strike_hz = 415.0e3 / mouth_mm * chance.uniform(0.98, 1.02)
    bow_mm = mouth_mm / 13.5
    mass_kg = 1.5 * strike_hz * (mouth_mm / 1000.0) ** 4
    year = chance.randint(1400, 1950)
    readings = ", ".join(f"{mouth_mm + chance.uniform(-1.5, 1.5):.1f}" for _ in range(4))
    partials = "\n".join(
        f"        - {{name: {name}, frequency_hz: {ratio * strike_hz * chance.uniform(0.995, 1.005):.1f}"
        + (f", beat_hz: {chance.uniform(0.2, 2.0):.1f}}}" if chance.random() < 0.3 else "}")
        for name, ratio in (
            ("hum", 0.5),
            ("prime", 1.0),
            ("tierce", 1.19),
            ("quint", 1.5),
            ("nominal", 2.0),
            ("superquint", 3.0),
            ("octave-nominal", 4.15),
        )
    )
    return f"""  - id: {tower}-{place}
    identity:
      name: Invented bell {place}
      position: {place}
      status: hanging
      material: bronze
      founder: Invented founder {chance.randint(1, 300)}
      founder_id: invented-founder-{chance.randint(1, 300)}
      cast_text: ANNO DOMINI {year}
      cast_date: {chance.choice((str(year), f"{year}?", f"{year // 10}X~", f"{year}/{year + 3}"))}
      dating_basis: inscribed
      protected: yes
      protected_source: invented list, no. {chance.randint(1, 9999)}
      earlier_masses: [{{mass_kg: {mass_kg:.0f}, basis: founder-record, source: invented ledger}}]
    dimensions:
      mouth_diameter_mm: {mouth_mm:.1f} mm
      mouth_diameter_readings_mm: [{readings}]
      height_mm: {_length(chance, mouth_mm * 0.78)}
      shoulder_diameter_mm: {_length(chance, mouth_mm * 0.52)}
      soundbow_thickness_mm: {bow_mm:.1f} mm
      waist_thickness_mm: {mouth_mm / 38:.1f} mm
      mass_kg: {mass_kg * chance.uniform(0.95, 1.05):.0f}
      mass_basis: weighed
    inscriptions:
      - number: 1
        place: shoulder
        transcription: |
          + AVE · MARIA · GRACIA · PLENA · ANNO · DOMINI ·
          M[CCC]C {year} · ME · FECIT · NIEMAND ·
        expansion: Ave Maria gratia plena anno domini {year} me fecit niemand
        language: la
        script: Latn
        lettering: lombardic
        legibility: mostly
        letter_height_mm: {chance.randint(18, 40)}
    sound:
      strike_hz: {strike_hz:.1f}
      reference_hz: 440
      partials:
{partials}
      rings_for_s: {mouth_mm / 10:.0f}
      method: recording at rest, analysis
    crown: {{kind: canons, loops: 6, argent: sound, staple: cast-in, staple_rust: surface, bolts_loose: no}}
    clapper:
      presence: present
      kind: flying
      material: wrought-iron
      length_mm: {mouth_mm * 0.73:.0f}
      ball_diameter_mm: {mouth_mm * 0.13:.0f}
      flat_width_mm: {chance.randint(5, 30)}
      pivot: leather
      play_vertical_mm: {chance.uniform(1, 5):.1f}
      play_sideways_mm: {chance.randint(5, 25)}
      shaft_touches: no
    strike_points:
{_strike_points(chance, bow_mm)}    cracks: [{{number: 1, state: none, method: eye}}]
    fittings: {{headstock: straight-wood, headstock_state: sound, bearings: rolling, isolator: yes}}
    ringing: {{style: swinging, strokes: 100, strokes_in_s: {chance.uniform(95, 140):.1f}, in_use: yes}}
    events: [{{kind: cast, date: {year}, source: inscription}}, {{kind: hung, date: {year + 1}}}]
"""


def _strike_points(chance: random.Random, bow_mm: float) -> str:
    first = chance.randint(0, 179)
    text = ""
    for number in (1, 2):
        pit_mm = bow_mm * chance.uniform(0.01, 0.09)
        text += f"""      - number: {number}
        bearing_deg: {first + 180 * (number - 1)}
        struck_by: clapper
        use: in-use
        pit_depth_mm: {pit_mm:.1f} mm
        pit_length_mm: {chance.randint(20, 90)} mm
        thickness_at_pit_mm: {bow_mm - pit_mm:.1f} mm
        thickness_beside_mm: {bow_mm:.1f} mm
"""
    return text


def _tail(chance: random.Random, tower: str, bells: int) -> str:
    text = "\nassessments:\n"
    for component in ("frame", "access", "tower"):
        text += f"  - {{component: {component}, condition: {chance.randint(0, 2)}, urgency: 0}}\n"
    for place in range(1, bells + 1):
        text += f"""  - component: bell
    bell: {tower}-{place}
    condition: {chance.randint(0, 2)}
    urgency: {chance.randint(0, 2)}
"""
    return text


def write_forms(folder: Path, forms: int, seed: int = 1) -> list[Path]:
    """Write ``forms`` forms into a folder and name the files."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for number in range(1, forms + 1):
        path = folder / f"form-{number:06d}.yaml"
        path.write_text(form_text(number, seed), encoding="utf-8", newline="\n")
        paths.append(path)
    return paths


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--forms", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    written = write_forms(asked.folder, asked.forms, asked.seed)
    size = sum(path.stat().st_size for path in written)
    print(f"{len(written)} forms, {size / 1e6:.1f} MB, {size / len(written) / 1e3:.1f} kB each")
