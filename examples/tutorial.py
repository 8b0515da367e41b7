# %% [markdown]
# # From an empty file to the order: a mast for an invented day boat
#
# Run this file as it is (`python examples/tutorial.py`), or open it in an editor that knows cells (`# %%`) and go
# through it one by one. Lines that begin with `# >` are what the cell above them prints. It takes some twenty seconds,
# and writes a page and a drawing into a folder `tutorial` where you run it.
#
# **A falling mast can kill or maim.** Every size below is preliminary and the boat is invented. Before you order or
# build, have a naval architect or surveyor review mast, bearings and hull; local codes and licensed practice come
# first.

# %%
from dataclasses import replace
from pathlib import Path
from textwrap import fill

from rigcalc import (
    Rig,
    RigInputError,
    check,
    compare,
    doubt,
    drawing,
    order,
    read_rig,
    report,
    rig_text,
    size,
)

# %% [markdown]
# ## 1. What a rig file must hold
#
# A rig is a text in TOML. Give an empty one, and the error lists everything that is missing, each with its place and
# its remedy. That list is the way to find out what a key is called.

# %%
try:
    read_rig("")
except RigInputError as error:
    for problem in error.problems:
        print(fill(str(problem), 110))
# > title: it is missing: Name of the project. Add title = "...".
# > boat: it is missing: The hull. Add a table [boat].
# > mast: it is missing: The spar. Add a table [mast].

# %% [markdown]
# ## 2. Boat, mast and sail
#
# Every quantity is a text with its unit. Heights are z, up the mast from its heel bearing. Here is a 4.4 m day boat
# with two aboard, and a mast that is a first guess: 76 mm wide, with a wall of 3 mm. The sail rolls on the mast.

# %%
text = """
title = "4.4 m day boat"

[boat]
displacement = "380 kg"
waterline = "0.30 m"
lateral_centre = "0.05 m"        # middle of hull and board under water

[boat.stability]                 # righting arms at angles of heel, crew as in a gust
righting_arm = [
  ["0 deg", "0 m"], ["15 deg", "0.14 m"], ["30 deg", "0.24 m"],
  ["45 deg", "0.29 m"], ["60 deg", "0.26 m"], ["95 deg", "0 m"],
]

[mast]
length = "5.50 m"
bury = "0.70 m"                  # between the middles of the bearings
material = "6061-T6 extruded"
fittings_mass = "0.4 kg"
stations = [
  {height = "0 m", diameter = "76 mm", wall = "3 mm"},
  {height = "5.50 m", diameter = "76 mm", wall = "3 mm"},
]

[[sail]]
name = "main"
luff = "4.30 m"
foot = "2.20 m"
tack_height = "1.10 m"
hold = "rolled"
cloth_mass = "220 g/m2"
cloth_thickness = "0.35 mm"

[stock]                          # what the yard sells, and what fits on the roof rack
tube_length = "6 m"
"""
rig = read_rig(text)
print(rig)
# > <Rig '4.4 m day boat': 5.50 m mast of 6061-T6 extruded, 1 sail>

# %% [markdown]
# ## 3. Check it, and read the failure
#
# No case is named, so a standard set is run: a gust, a run, a storm with no sail, rolling, and knocked flat. In a
# notebook `result` as the last line of a cell shows verdict, checks and cautions.

# %%
result = check(rig)
print(result.verdict.upper())
for one in result.checks:
    if not one.passed:
        print(f"{one.id} at z = {one.height_m:.2f} m in '{one.case}' is used {one.utilisation:.2f}")
print(f"Cure: {result.governing.advice}")
# > FAIL
# > yield at z = 0.70 m in 'running, all sail' is used 1.06
# > rupture at z = 0.70 m in 'running, all sail' is used 1.11
# > wall-class at z = 0.70 m in 'running, all sail' is used 1.06
# > tip-deflection at z = 5.50 m in 'gust, all sail' is used 1.30
# > tip-deflection at z = 5.50 m in 'running, all sail' is used 1.38
# > Cure: stiffen the mast 1.39 times: it bends as 1/wall and as 1/diameter cubed

# %% [markdown]
# *Used* is what is asked of the mast over what it can bear: up to 1 passes. What asks so much of it? The moment is
# greatest where the mast leaves the deck, and each case says in words what set it.

# %%
for case in result.cases:
    print(f"{case.name}: {case.max_moment_N_m:.0f} N m at z = {case.max_moment_height_m:.2f} m")
print(result.cases[0].notes[0])
# > gust, all sail: 2424 N m at z = 0.70 m
# > running, all sail: 2762 N m at z = 0.70 m
# > storm, no sail: 1513 N m at z = 0.70 m
# > rolling: 677 N m at z = 0.70 m
# > knockdown: 371 N m at z = 0.70 m
# > RM max 1081 N m at 45 deg x 1.5 over an arm of 2.72 m from the centre of lateral resistance

# %% [markdown]
# ## 4. Cure it by hand
#
# A thicker wall helps a little, a wider tube much more: it bends as one over the diameter cubed. Frozen records are
# changed by `replace`; what comes out is checked by the same rules.


# %%
def with_tube(diameter_m: float, wall_m: float) -> Rig:
    """Return the rig with an even tube."""
    stations = tuple(replace(one, diameter_m=diameter_m, wall_m=wall_m) for one in rig.mast.stations)
    return replace(rig, mast=replace(rig.mast, stations=stations))


for diameter, wall in ((76, 4), (76, 5), (90, 3), (100, 3)):
    tried = check(with_tube(diameter / 1e3, wall / 1e3))
    used = tried.governing.utilisation
    print(f"{diameter} x {wall} mm: {tried.verdict}, used {used:.2f}, {tried.mast.mass_kg:.1f} kg")
# > 76 x 4 mm: fail, used 1.08, 13.8 kg
# > 76 x 5 mm: pass, used 0.90, 17.0 kg
# > 90 x 3 mm: pass, used 0.81, 12.6 kg
# > 100 x 3 mm: pass, used 0.62, 14.0 kg

# %% [markdown]
# ## 5. Let it be sized
#
# `size` looks at every mast that tubes of the generic lists can make, single or standing in one another, and gives the
# lightest that passes. The next lighter ones show what holds it.

# %%
found = size(rig)
print(found)
for beside in found.neighbours:
    print(f"{beside.step}, {beside.mass_kg:.1f} kg: {beside.check} {beside.utilisation:.2f}")
# > <Sized '6061-T6 extruded': 88.9 x 2.5 mm; 10.5 kg with fittings>
# > NPS 2.5 schedule 10S, 10.4 kg: tip-deflection 1.55

# %% [markdown]
# ## 6. Or of wood?
#
# Each is sized for the same loads and limits. The wooden one is a tube of staves.

# %%
both = compare(rig, materials=["6061-T6 extruded", "Sitka spruce (US)"])
for mast in both.masts:
    passed = "passes" if mast.passed else "fails"
    print(
        f"{mast.material}, {mast.construction}: {mast.mass_kg:.1f} kg, {mast.widest_m * 1e3:.0f} mm, {passed}"
    )
# > 6061-T6 extruded, as the file has it: 10.6 kg, 76 mm, fails
# > 6061-T6 extruded, tubes: 10.5 kg, 89 mm, passes
# > Sitka spruce (US), staves: 15.3 kg, 144 mm, passes

# %% [markdown]
# ## 7. How sure is that?
#
# Wind, righting moment, walls and strengths are never quite what the file says. `doubt` tries masts with all of them
# spread, and counts how often a check fails. Its factors of safety are in it: a chance is not that of the mast falling.

# %%
unsure = doubt(found.rig, samples=2000)
print(f"{unsure.chance:.0%} of {unsure.samples} masts fail a check")
for share in unsure.shares[:2]:
    print(f"{share.input}: {share.share:.0%} of the spread")
# > 59% of 2000 masts fail a check
# > wind: 73% of the spread
# > wall: 9% of the spread

# %% [markdown]
# The lightest mast that passes stands near its limits. One that is a size up costs little, and is much surer.

# %%
chosen = with_tube(0.100, 0.003)
surer = doubt(chosen, samples=2000)
print(f"{check(chosen).mast.mass_kg - found.mass_kg:.1f} kg more: {surer.chance:.1%} fail a check")
# > 3.5 kg more: 0.5% fail a check

# %% [markdown]
# ## 8. What to buy

# %%
shopping = order(chosen)
for line in shopping.bought:
    print(f"{line.count} x {line.name}, {line.length_m:.1f} m, {line.mass_kg:.1f} kg, {line.material}")
for lot in shopping.metal.lots:
    for bar in lot.plan.bars:
        print(
            f"cut {', '.join(f'{piece.length_m:.2f} m' for piece in bar.pieces)}; {bar.offcut_m:.2f} m left over"
        )
# > 1 x 100 x 3 mm, 6.0 m, 14.8 kg, 6061-T6 extruded
# > cut 5.50 m; 0.49 m left over

# %% [markdown]
# ## 9. On paper, for the reviewer and the bench
#
# The report has everything: verdict, cautions, figures, checks, order, and the calculation worked by hand. The rig
# file goes with it.

# %%
folder = Path("tutorial")
folder.mkdir(exist_ok=True)
filed = rig_text(chosen, heading=["An invented boat. Have it reviewed before you order or build."])
(folder / "day_boat.toml").write_text(filed, encoding="utf-8", newline="\n")
page = report(chosen, raw=filed.encode(), name="day_boat.toml")
(folder / "day_boat.html").write_text(page, encoding="utf-8", newline="\n")
(folder / "day_boat.dxf").write_bytes(drawing(chosen, form="dxf"))
for path in sorted(folder.iterdir()):
    print(path.name)
for caution in check(chosen).cautions[:2]:
    print(fill(caution, 88))
# > day_boat.dxf
# > day_boat.html
# > day_boat.toml
# > A falling mast can kill or maim: every size given here is preliminary.
# > Before you order or build, have a naval architect or surveyor review the mast, its
# > bearings and the hull that holds them; local codes and licensed practice come first.
