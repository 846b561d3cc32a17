"""Every sentence the pages say that does not come from a record, in one place.

Wording of the cautions is `catalog.domain.cautions`; labels of facts are the specification's.
Lines marked "example" stand in for wording a service approves locally.
"""

PRODUCT = "Chockbook"
PURPOSE = (
    "Chockbook turns half a description of an electrified vehicle into the vehicles it may be, says how sure that "
    "is, and opens the emergency data of each: how to stop it moving, open its doors, cut high voltage off and "
    "where not to cut."
)

DOORS = (
    ("/desk", "Dispatcher", "Type what the caller says. The page keeps up while you type."),
    ("/phone", "Responder", "On the phone: search by words or taps, then the steps for the vehicle in front of you."),
    ("/steward", "Data steward", "Editions, what changed, what is not stated, guides."),
)

LINE_LABEL = "What the caller says"
LINE_HINT = "white pickup, port left rear"
CREW_APP = "The app: taps too, and without signal"
CREW_HINT = "say or type what you see"

STALE = "The catalogue did not answer. What is shown below may not fit the line: press Enter to ask again."

UNDERLINES = {
    "looks": "used to rank",
    "scene": "scene, not used to rank",
    "hedged": "said with doubt, counts for less",
    "unused": "read, does not rank",
    "other": "the other vehicle's, does not rank",
    "struck": "struck out, does not count",
}

WALK_ROUND = "Walk round"
WALK_NUMBERS = "Numbers: the order you reach things, as above. Blank is no fact, never permission: strip trim and look."
WALK_STEPS = "Numbers: those of the steps. Blank is no fact, never permission: strip trim and look."
WALK_NO_ROOM = "No room for the drawing on this sheet: it is on the page of this brief."
WALK_SHEET = "Numbers: those of the steps."
WALK_WORDS = "The drawing in words"
WALK_NO_PLACE = "Place not stated, no mark in the drawing"
CUT_POINTS = "Cut points close up"
CUT_POINTS_WHAT = "A diagram of the facts, not to scale; dotted is not stated."
CUT_POINTS_NONE = "No way to cut high voltage off is stated, so none is drawn. High voltage stays on; work as if live."
POSTURES = (
    ("", "not said"),
    ("wheels", "on its wheels"),
    ("left_down", "left side down"),
    ("right_down", "right side down"),
    ("roof", "on its roof"),
)

UNREAD_WHAT = (
    "Each was said in three separate descriptions or more and nothing was made of it. Rarer words are not known here, "
    "only counted under a hash; descriptions are never kept. A word people use for a shape, a place or a part belongs "
    "into the vocabulary."
)
SAYINGS_WHAT = (
    "Every table of the reader is a member of an edition. <name> stands for each of a set. A condition is a rule of "
    "the reader that looks at the words around. What is missing here: see the words that often stay unread."
)
SAYINGS_CHANGED = "This program reads by newer tables, which the next publication will list:"
UNREAD_NONE = "No word has stayed unread in three separate descriptions yet."

UNDERSTOOD = "Understood as"
OTHER_VEHICLE = "The other vehicle, not ranked"
SCENE_SAID = "The scene as said"
SCENE_CONFIRM = "ask to confirm"
NOT_READ = "Not read"
NOT_KEPT = "Not used, not kept"
NOT_KEPT_WHAT = "number, name or address"

# The list of a cue: left as read, struck out, or changed.
AS_READ = " (as read)"
STRIKE_OUT = "strike it out"
STRUCK = "struck out"
CORRECTED = "put right"
WHOSE = {"A": "it is this vehicle's", "B": "it is the other vehicle's"}
# In place of a meaning where there is little room.
BRIEF = {"unused": "unused", "other": "other vehicle", "struck": "struck out"}

# Ask next. Whom the question may be put to decides what is asked.
ASK_TITLE = "Ask next"
CANNOT_TELL = "can't tell"
ANSWER_OUT = "strike it out: can't tell"
ANSWERED = "Answered"
MAY_BE_IT = "take that back: it may be"
NAME_HINT = "name or badge as heard"
NAME_TAKE = "Take it"
TREAT_UNLISTED = "Treat as not in this catalogue"
CREW_WHERE = "Where are you?"
CREW_PLACES = (("", "not at it yet"), ("crew", "at it, chocked"))
CREW_ADVICE = {
    "": "Only what is seen from where you are: do not go nearer to answer.",
    "crew": "Chocked, and approached by your procedure. Stay out of the line of travel.",
}

# Look-alikes put together.
TELL_APART = "Told apart by"

ALIKE_TITLE = "Looks like it"
ALIKE_THIS = "this one:"
ALIKE_THAT = "the other:"
ALIKE_SHOWN = 3
ALIKE_DIFFER = "They differ in {count} more facts; open the other to compare."
ALIKE_ACTS_SAME = "A crew acts the same on both, as far as is stated."
ALIKE_FOOT = "A vehicle that is not in this catalogue may look like it too. Confirm by badge or VIN."

# What the crew can count on: by verdict, the heading and what it promises.
COUNTED_TITLE = "What the crew can count on"
COUNTED = {
    "same_on_all": ("Same on all", "over 19 in 20, vehicle not confirmed"),
    "possible_vehicles_agree": ("The possible vehicles agree", "weaker: not known if it is none of them"),
    "differs": ("Differs", "do not count on one of these; plan by what protects most"),
    "not_stated": ("Not stated", "which is not the same as none"),
}
COUNTED_UNLISTED = "Not in this catalogue {share}: then none of this is known. Go by the steps for any vehicle."
COUNTED_NONE = "Nothing yet: no vehicle is likelier than another. Go by the steps for any vehicle."
CUT_FIRST = "Expose, find the label, then cut."
PORT_FIRST = "Only if no fire, smoke or water, after the chocks."
PLUG_FIRST = "Only if no fire, smoke or water. It stops drive only: it can still roll, and it stays live."
PORT_RULED_OUT = "Leave the charge port alone: ruled out by what was said."
ASSUMED = "not stated, to be assumed"
PROTECTS = "protects most"
AGAINST_SILENT = "Not stated for {share}, or not in this catalogue"
AGAINST_PART = "What is not stated of it"
AGAINST_UNLISTED = "Not in this catalogue"
# What it turned out to be: kept to fit the confidence to.
WATCH_THESE = "Watch that this is found"
WATCH_THESE_WHAT = "Before every publication it is checked that this still finds the record. Kept, never the words:"
WATCH_ADD = "Watch a description"
WATCH_CODE = "Record it must find"
WATCH_CHOOSE = "Choose"
WATCH_OTHER = "Or the code of another record"
WATCH_RANK = "Among so many first"
WATCH_NAME = "Name, if it needs one"

OUTCOME_TITLE = "Found out what it was?"
OUTCOME_WHAT = "Kept: what was understood, the vehicle, the day. Not kept: the words, the caller, a VIN."
OUTCOME_BADGE = "Badge confirmed"
OUTCOME_YES = "Confirmed"  # answers "badge reads ...?"
OUTCOME_VIN = "VIN confirmed"
OUTCOME_NOT_THIS = "Not this vehicle"
OUTCOME_NOT_LISTED = "Badge read: not in this catalogue"
OUTCOME_NOTED = {
    "confirmed": "Noted: it was this vehicle.",
    "not_this": "Noted: it was not this vehicle.",
    "not_listed": "Noted: it is not in this catalogue.",
}
OUTCOME_FAILED = "Not noted. Press again; nothing is kept twice."

CONFIDENCE_WHAT = (
    "Every probability is said in a word. Here is how often each word was right, and what that was measured on. A word "
    "fits where its exact bounds meet what it is used for."
)
CONFIDENCE_SIMULATED = (
    "Measured on simulated descriptions of this edition's vehicles: it shows whether the arithmetic holds, not how "
    "callers are."
)
CONFIDENCE_FIELD = "Measured on confirmed outcomes."
CONFIDENCE_NONE = "This edition has not been checked yet: it follows within a minute of its publication."
CONFIDENCE_BAND = (
    "Line: how often the first answer was right. Dashes: as often as it said. Hatched: where 9 of 10 lines lie by "
    "chance alone when every probability is right. A line that leaves it below says: too sure."
)

UNLISTED_SUBTITLE = "Go by the steps for any vehicle"


# Whom the steps are for, by how they came about: title and note.
STEPS_KINDS = {
    "any_vehicle": ("Steps for any vehicle", "whatever it turns out to be"),
    "one_vehicle": ("Steps for {vehicle}", "confirm the badge first"),
    "same_on_all": ("Steps, the same on all possible vehicles", "vehicle not confirmed"),
    "two_branches": ("Steps, two ways it can be", "the same first; a sight decides"),
    "any_vehicle_and_what_agrees": ("Steps for any vehicle, and what agrees", "too many possible vehicles for more"),
}
# Before a sentence of a step.
STEP_PARTS = {
    "why": "Why",
    "where": "Where",
    "how": "How",
    "tool": "Tool",
    "confirms": "Confirms it",
    "fails": "If not",
    "wait": "Wait",
    "meanwhile": "Meanwhile",
    "not": "It does not",
}
RECORD_STEPS = "All steps in order, in this scene"
STEPS_AGAIN = "Steps in this scene"
ONLY_IF = "Only if"
STEP_SOURCE = "Source"
STEP_SITE = "this service's own"
STEP_DIFFERS = "differs"
TELL_APART_FIRST = "Tell them apart"

# A tab is called by its likeliest vehicle from here on.
TAB_SURE = frozenset({"nearly sure", "very likely", "likely"})

# The brief on the desk.
BRIEF_TITLE = "Brief for vehicle"
BRIEF_DRAFT = "Draft."
BRIEF_DRAFT_WHAT = "Kept nowhere, follows every word."
BRIEF_CHANGED = "Reads otherwise than what was composed. F4, and F4 again: the CORRECTION."
BRIEF_COMPOSE = "Compose and keep it"
BRIEF_COMPOSE_UNSTORED = "Compose it, unstored"
BRIEF_CORRECT = "Compose the CORRECTION"
BRIEF_NOBODY = "Nobody is signed in: a brief is composed, marked unstored, and has no link."
BRIEF_NONE = "No catalogue: no brief. Read out the steps for any vehicle."
BRIEF_KEPT = "Brief kept"
BRIEF_CORRECTION = "CORRECTION kept"
BRIEF_UNSTORED = "Brief, unstored"
BRIEF_ASK_BACK = "Ask to have read back:"
BRIEF_FORMS = "Forms of the brief"
BRIEF_WHO_BACK = "Who read it back?"
BRIEF_FULL = "Full text"
BRIEF_NOT_BACK = "Not read back yet."
BRIEF_NEWER = "Edition {edition} says otherwise. F4: compose the CORRECTION."
BRIEF_SAME = "Nothing a crew acts on reads otherwise: the brief holds."
BRIEF_UNSTORED_WHY = {
    "nobody": "Nobody is signed in.",
    "may not": "This account may not keep briefs.",
    "away": "The database does not answer.",
    "correction": "Say CORRECTION yourself, and what changed.",
}
CALL_NUMBER = "Incident"
CALLS = "Calls open at this desk"
CALL_VEHICLES = "Vehicles of this call"
# What scripts say on the desk.
DESK_SAYS = {
    "call": "Call",
    "vehicle": "vehicle",
    "alert": "changed",
    "another_call": "call",
    "another_vehicle": "vehicle",
    "copied": "Copied: {what}.",
    "copied_old": "It is what was composed; the draft reads otherwise.",
    "uncopied": "Not copied: mark the text and copy it by hand.",
    "unkept": "Not kept: the server did not answer. Press F4 again; R copies the draft.",
    "noted": "Read-back noted.",
    "unnoted": "Not noted. Try again.",
    "close": "Press F10 once more to end this call here: its words are deleted from this browser.",
    "nothing_other": "Nothing was said of another vehicle.",
    "moved": "Now vehicle {letter}. What was said of it is in its line.",
    "last": "A to Z are taken.",
}

# The scene: cells that always stand on the desk, (field, label); those that are known follow.
SCENE_TITLE = "Scene"
SCENE_CELLS = (
    ("fire", "fire or smoke"),
    ("water", "water"),
    ("charger_attached", "plugged in"),
    ("port_damaged", "port damaged"),
    ("pack_damage", "pack damaged"),
    ("enclosed", "indoors"),
    ("trapped", "trapped"),
)
SCENE_ANSWER = {"yes": "YES", "no": "no", "perhaps": "perhaps", "unknown": "not said"}
SCENE_AS_SAID = " (as the words say)"
SCENE_MORE = "another …"
SCENE_NOT_OFFERED = frozenset({"plug_accepted", "plug_refused", "coupler_removed", "cut_off_done"})

TELL_TITLE = "Tell the caller"
# The scene bar: (key, cell, question in the tray). Answers are yes, no, not said.
SCENE = (
    ("fire", "Fire or smoke?", "Can you see fire, smoke or vapour?"),
    ("water", "Water?", "Can you see water at or in the vehicle?"),
    ("plugged", "Plugged in?", "Is anything plugged in at the charge port?"),
    ("damaged", "Port damaged?", "Is the port crushed, burnt, wet inside, or beside bare orange cable?"),
)
ANSWERS = (("yes", "Yes"), ("no", "No"), ("unsaid", "Not said"))
ANSWER_SHOWN = {"yes": "YES", "no": "no", "unsaid": "not said"}

SCENE_FIRE = "Treat as a pack fire. Upwind, breathing apparatus, plenty of water."
SCENE_WATER = "Casualty first. Cut off after recovery unless the guide says."
CUT_IN_WATER = "In water: after recovery, unless the guide says."

PORT_ONLY_IF = "Port: only if no fire, smoke or water"
PORT_LEAVE = "LEAVE THE PORT ALONE"
PORT_OCCUPIED = "Port: occupied. Leave the coupler in, tag it, guard it"
PORT_STEP = "Port: step {number}, if not crushed, burnt or wet inside"
PORT_STEP_CLEAR = "Port: step {number}, after the chocks. Stops drive only"
PORT_NO_HELP = "Port: not a way to stop it"
PORT_NONE = "Port: none stated. Leave any port alone"
PORT_SAID_UNUSABLE = "Port: leave it alone. Go on to the next step"

CHOCK = "Chock a wheel, both sides"
CHOCK_MORE = "From the side; it can move without a sound"
CHOCK_CYCLE = "Hold it, then chock both wheels"
OFF_NOT_STATED = "Park, parking brake, power off"
PLUG = "Plug in"
PLUG_MORE = "Stops drive only: it can still roll, and it stays live"
PLUG_ONLY_IF = "Only if no fire, smoke or water. "
PLUG_DISPUTED = "Guides disagree whether it refuses drive: treat as still able to drive"
PLUG_REFUSES_NOT = "Plugging in does not stop it: stated to drive on"
PACK_STAYS = "pack stays live"
ELSEWHERE = "Anywhere else: not stated"
STRIP = "Strip trim and look"
NEVER_PUSH = "never push, pierce or lever"
NO_CUT_EMPTY = "None stated: strip trim and look"
NOTHING_STATED = "nothing stated"

DO_NOT_USE = "DO NOT USE"
DO_NOT_USE_NEXT = "Go by the steps for any vehicle. Nothing that this record said may be relied on."
NOT_THIS = "Not this vehicle"
CONFIRM_NO_BADGE = "No badge stated. Confirm by name or VIN"

BACK = "Back to the search"

# What to do next, by status.
ERRORS = {
    400: ("That could not be read", "Check the address or what was typed, and try again."),
    401: ("Nobody is signed in", "Sign in, then go back to where you were."),
    403: ("This account may not do that", "Sign in as somebody who may, or ask an administrator."),
    404: ("There is no such page", "Search by what you see, or go by the steps for any vehicle."),
    405: ("That page does not take this", "Go back to the search and start from there."),
    409: ("It has moved on since", "Open it again and repeat the change."),
    429: ("Too many tries", "Wait, then try again."),
    413: ("That is too much text", "Shorten the description and try again."),
    500: ("Something broke on our side", "Go by the steps for any vehicle. Try again in a moment; tell the steward."),
    503: ("That is not there just now", "Go by the steps for any vehicle. Try again in a moment."),
}
