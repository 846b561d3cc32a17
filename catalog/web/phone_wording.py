"""What the responder's app says that is neither of a record nor of a search: labels of its shell and of its taps."""

NAME = "Chockbook responder"
SHORT_NAME = "Chockbook"
ABOUT = "Vehicles by words or taps, and how to stop them, open them, cut high voltage off and where not to cut."

ANY = "Any vehicle"
ANY_LONG = "Steps for any vehicle"
SEARCH = "Search"
BRIEFS = "Briefs"
MENU = "Menu"
BAR = "Pages"

EDITION_WAITS = "looking which edition is on this phone"

TITLE = "What do you see?"
LINE = "What you see, in words"
HINT = "say or type what you see"
EMPTY_LINE = "Clear"
NO_SCRIPT = "Without a script this page shows nothing more. The search that needs none:"
"""Before a link to /crew."""

# The groups of taps, within the thumb's reach: (panel, on its tab, its question).
PANELS = (
    ("body", "body", "What shape is it?"),
    ("port", "charge port", "Where is the charge port?"),
    ("badge", "badge", "What does the badge read?"),
    ("more", "more", "What else can you see?"),
)
CANNOT_TELL = "can't tell"

# Where one stands turns the outline: (value, words).
STANDING = (("tail", "I stand at the tail"), ("nose", "I stand at the nose"))
COVER = "What is in front of it?"
BADGE_LINE = "Letters and digits you can read"
BADGE_HINT = "as they stand"
BADGE_TAKE = "Take it"
# How much of the name was read: (value, words), value with "*" for what could not be read.
BADGE_PARTS = (
    ("{}", "all of it"),
    ("{}*", "it begins so"),
    ("*{}", "it ends so"),
    ("*{}*", "a part inside"),
)
# Further down: what they are, by attribute.
MORE = (
    ("connector", "The socket behind the port's door"),
    ("door_mechanism", "How the port's door opens"),
    ("selector", "How a drive is chosen"),
    ("colour", "Colour"),
)

LIGHT = "Light"
LIGHTS = (("", "as the phone"), ("day", "day"), ("night", "night"), ("glare", "glare"))
# From the menu: (address, name, what it is).
WAYS = (
    ("#/briefs", BRIEFS, "opened on this phone, kept until they expire"),
    ("#/sent", "Reports from this phone", "what waits for signal, what arrived"),
    ("#/any", ANY_LONG, "needs no vehicle and no signal"),
    ("/crew", "Search without a script", "the plain page; needs a signal"),
    ("/sign-in", "Sign in", "needs a signal"),
)
KEPT = "On this phone"
ABOUT_TITLE = "What it is not"
