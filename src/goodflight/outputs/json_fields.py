"""What JSON fields mean that no result declares itself: the rest of docs/json.md."""

from typing import Final

from goodflight.outputs.figures import FIGURES

FIELDS: Final[dict[str, dict[str, str]]] = {
    "draw": {"file": "where the drawing was saved"},
    "figures of `fly`": {key: words for key, (_, words) in FIGURES.items()},
    "order": {
        "rocket": "name of the rocket",
        "invented": "true when the project says that its figures are invented",
        "steps": "every step in its order, see `order step`",
        "done": "how many of them are done",
        "own": "name, done, note: steps of the builder's own in build.toml",
        "doubts": "where what is ticked cannot be so, in sentences",
        "care": "every caution of the steps in full, once",
        "span": "of all steps: how many; hands_on_s and hands_on_sigma_s at the bench [s]; "
        "least_s from first step to last cure [s], null = not known; chain: key, title, waits_s "
        "[s] of the steps that set it; unknown: keys of steps whose "
        "cure is not known or never ends",
        "span_left": "the same of the steps that are not ticked",
    },
    "order step": {
        "number": "its place, from 1",
        "key": "name of the step, for --tick and --check",
        "title": "what is done",
        "reaches": "place it works at and ways_in, any one of which must still be open",
        "closes": "ways in that it closes for good",
        "after": "keys of the steps it builds on",
        "takes_s": "hands-on time at the bench [s]",
        "takes_sigma_s": "one standard deviation of it [s]",
        "takes_known": "guess, label, measured or flight",
        "takes_because": "what it stands on",
        "places_s": "from mixing the glue until the last piece sits [s]; 0 = one piece",
        "place_needs": "what the place must stand: dust, fumes (fresh air), outdoors (paint)",
        "waits_for": "handling or cured: what the glue of the steps it builds on must have reached",
        "glue": "glue or paint it leaves to set; empty = none",
        "glue_because": "why this glue",
        "place": "workplace where it is left; empty = none entered",
        "temperature_k": "of that place [K]; null = not entered, the sheet's temperature is taken",
        "working_s": "time to work before the glue sets, there [s]; null = not known",
        "handling_s": "time until it may be handled, there [s]; null = not known, or it never is",
        "cure_s": "time to cure, there [s]; null = not known, or it never does",
        "too_cold": "true: nothing cures at that temperature",
        "tools": "what is needed",
        "how": "how it is done",
        "check": "what to check after it",
        "warning": "what is wrong with it; empty = nothing",
        "cautions": "titles of its cautions; their words stand in `care` of the order",
        "why": "why it is at this place",
        "no_return": "true: it shuts something off for good",
        "shuts_off": "places that cannot be reached any more",
        "done": "true: ticked in build.toml",
        "mass": "weight at this state as entered; empty = not weighed",
        "photo": "file name of its photo; empty = none",
    },
    "order --check": {
        "can_be_built": "true: no step is locked out",
        "refusals": "what is wrong with it, see `order fault`",
    },
    "order fault": {
        "step": "key of the step at fault",
        "number": "its place in the order given, from 1; 0 = not in it",
        "reason": "why it cannot be there",
        "locks_out": "key of the later step that could not be done; empty = none",
    },
    "print": {
        "file": "where it was saved",
        "what": "templates, guides, cutlist, packing, labels or book; the fields of each follow",
        "stamp": "mark of the figures it shows; see `stamp`",
    },
    "print: templates, packing, flat guides": {
        "rocket": "name of the rocket",
        "templates": "every drawing, see `template`",
        "notes": "cautions about them",
    },
    "template": {
        "key": "name of the drawing",
        "title": "the same in words",
        "count": "how many are needed",
        "material": "what it is cut from; empty = paper",
        "thickness_m": "of the material [m]; null = paper",
        "sizes_m": "named lengths of the drawing [m]",
        "notes": "cautions about it",
    },
    "print: printed guide": {
        "size_m": "length, width, height [m]",
        "triangles": "of its surface",
        "seat": "what it sits on",
        "fin_bound_rad": "most that a fin can lean by the guide's clearance [rad]",
    },
    "print: cutlist": {
        "rocket": "name of the rocket",
        "kerf_m": "width of the cut [m]",
        "cuts": "name, count, material, finished length_m, width_m, thickness_m, diameter_m [m] "
        "(null = does not apply), source: from which tube or panel",
        "buys": "what, amount, unit (m, sheets, pieces, kg, cans; 0 = amount not known), why, "
        "each: your price of one (null = not entered)",
        "sheets": "number, material, thickness_m [m], used (0 to 1), pieces: keys of the drawings",
        "left_out": "pieces on no sheet, and a guide that cannot be made: why and what to do",
    },
    "print: book": {
        "rocket": "name of the rocket",
        "steps": "how many steps it has",
    },
    "versions": {"versions": "every earlier text that is kept, see `version`"},
    "version": {
        "file": "path inside the project",
        "version": "number, from 1, the oldest first; for `restore`",
        "saved": "when it was replaced, UTC: 20301231T235959Z",
        "kept": "true: marked with --keep, never pruned",
    },
}
