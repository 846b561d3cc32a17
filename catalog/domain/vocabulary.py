"""Every closed vocabulary of the record, in the trade's words."""

from catalog.domain.terms import Vocabulary, index, vocabulary

BODY = vocabulary(
    "body", "body",
    hatchback="hatchback", saloon="saloon", estate="estate", suv="SUV", coupe="coupe",
    convertible="convertible", pickup="pickup", van="van", people_carrier="people carrier",
    bus="bus", lorry="lorry", motorcycle="motorcycle", microcar="microcar",
)  # fmt: skip

SIZE = vocabulary(
    "size", "size class",
    small="small", medium="medium", large="large", very_large="very large",
)  # fmt: skip

PROPULSION = vocabulary(
    "propulsion", "propulsion",
    battery="battery electric", plug_in_hybrid="plug-in hybrid", hybrid="hybrid | cannot be plugged in",
    fuel_cell="fuel cell", combustion="combustion | petrol, diesel or gas, no traction battery",
)  # fmt: skip

FUEL = vocabulary(
    "fuel", "fuel",
    petrol="petrol", diesel="diesel", cng="compressed natural gas", lpg="liquefied petroleum gas",
    lng="liquefied natural gas", hydrogen="hydrogen",
)  # fmt: skip

# UNECE R.E.3 categories a record may carry.
CATEGORY = vocabulary(
    "category", "UNECE category",
    L1="L1", L2="L2", L3="L3", L4="L4", L5="L5", L6="L6", L7="L7",
    M1="M1", M2="M2", M3="M3", N1="N1", N2="N2", N3="N3",
)  # fmt: skip

STEERING = vocabulary(
    "steering", "steering side",
    left="steering wheel on the left", right="steering wheel on the right", none="handlebars or no wheel",
)  # fmt: skip

COLOUR = vocabulary(
    "colour", "colour",
    white="white", black="black", silver="silver", grey="grey", blue="blue", red="red", green="green",
    yellow="yellow", orange="orange", brown="brown", beige="beige", gold="gold", bronze="bronze",
    copper="copper", cream="cream", purple="purple", maroon="maroon", pink="pink", turquoise="turquoise",
    tan="tan", chrome="chrome", camouflage="camouflage",
)  # fmt: skip

FRONT_FACE = vocabulary(
    "front_face", "front face",
    open_grille="open grille", closed_panel="closed panel, no grille", lower_intake="intake low in the bumper",
    slats="upright slats", split="split grille", flat_glass="flat front with glass",
)  # fmt: skip

LAMPS = vocabulary(
    "lamps", "lamps",
    strip="one strip across", pair_slim="slim pair", pair_round="round pair", pair_square="square pair",
    pair_tall="tall pair in the pillars", single="single lamp", pixels="rows of small squares",
)  # fmt: skip

ROOF = vocabulary(
    "roof", "roof",
    fixed="fixed roof", glass="glass roof", soft="soft top", rails="roof rails", high="high roof",
    rack="rack or pods on the roof", open="none",
)  # fmt: skip

HANDLES = vocabulary(
    "handles", "door handles",
    pull="pull handles", flush="flush, come out by power", hidden="hidden in the pillar", button="push button",
    twist="twist or lever", none="none outside",
)  # fmt: skip

DOOR_MECHANISM = vocabulary(
    "door_mechanism", "port door mechanism",
    push_to_open="push to open", pull_edge="pull the edge", motorised="motorised",
    inside_release="released from inside", sliding="sliding", hinged_badge="the badge hinges",
    hinged_lamp="a lamp hinges", hinged_plate="the number plate hinges", cap="cap without a door",
)  # fmt: skip

PORT_COVER = vocabulary(
    "port_cover", "what covers the port",
    flap="flap in the body", badge="badge", lamp="lamp", plate="number plate", grille="grille panel",
    cap="rubber or screw cap", seat="seat", panel="loose panel",
)  # fmt: skip

CURRENT = vocabulary("current", "current", ac="AC", dc="DC", ac_dc="AC and DC")

WAKES = vocabulary(
    "wakes", "what mating wakes",
    low_voltage="12 V network", contactors="contactors", fans="fans and pumps", lights="lights", nothing="nothing",
)  # fmt: skip

REMOTE_WAKE = vocabulary(
    "remote_wake", "what wakes it again",
    app="phone app", phone_key="phone as key", card_key="card key", key_fob="key within range",
    preconditioning="timed pre-conditioning", remote_parking="remote parking", brake_pedal="brake pedal",
    door_opening="opening a door", charging="charging", nothing="nothing",
)  # fmt: skip

SELECTOR = vocabulary(
    "selector", "selector",
    lever="lever on the floor", stalk="stalk on the steering column", dial="rotary dial", buttons="buttons",
    touch="swipe on a screen", toggle="small toggle", wand="wand on the dash", twist_grip="twist grip",
    pedal="pedals only",
)  # fmt: skip

AUTO_PARK = vocabulary(
    "auto_park", "when park engages by itself",
    power_off="power off", driver_door="driver's door opened", belt_off="belt off and door opened",
    coupler="charge coupler plugged in", low_voltage_loss="12 V lost", never="never",
)  # fmt: skip

PARK_WITHOUT_12V = vocabulary(
    "park_without_12v", "park when 12 V is lost",
    stays="stays as it was", engages="park engages", releases="park releases",
    cannot_change="cannot be changed",
)  # fmt: skip

PARKING_BRAKE = vocabulary(
    "parking_brake", "parking brake",
    electric="electric, by button", automatic="electric, by itself at power off", lever="hand lever",
    pedal="foot pedal", air="spring brake, air valve", screen="electric, on the screen",
)  # fmt: skip

READY_SHOWN = vocabulary(
    "ready_shown", "how readiness shows",
    word="READY in words", lamp="a lamp", gauge="a needle off its rest", screen="screen only", nothing="nothing shows",
)  # fmt: skip

METHOD = vocabulary(
    "method", "way to cut high voltage off",
    lv_cut_loop="low-voltage cut loop", service_disconnect="manual service disconnect",
    lv_negative="12 V negative", fuse="fuse pulled", switch="emergency switch", power_off="power off",
)  # fmt: skip

REACH = vocabulary(
    "reach", "reachable when",
    wheels="on its wheels", left_down="left side down", right_down="right side down", roof="on its roof",
    front_crushed="front crushed", rear_crushed="rear crushed", left_crushed="left side crushed",
    right_crushed="right side crushed",
)  # fmt: skip

TOOL = vocabulary(
    "tool", "tool",
    none="by hand", cutters="side cutters", insulated_cutters="insulated cutters", spanner="spanner",
    screwdriver="screwdriver", trim_tool="trim tool", lever_bar="pry bar", key_="square key",
)  # fmt: skip

EFFECT = vocabulary(
    "effect", "what it does besides",
    restraints_wait="restraint wait starts", doors_lock="doors lose power", windows_dead="windows lose power",
    port_dead="plug is no longer held or answered", park_fixed="park can no longer be changed",
    hazards_off="hazard lamps go out",
)  # fmt: skip

STAYS_LIVE = vocabulary(
    "stays_live", "what stays live",
    pack="the pack and its cables inside", dc_cables="high-voltage cables until the wait is over",
    low_voltage="12 V network", second_source="a second source", outlets="mains outlets", roof_rails="roof rails",
)  # fmt: skip

PPE = vocabulary(
    "ppe", "protective equipment",
    structural="structural fire kit", hv_gloves="class 0 insulating gloves", face_shield="face shield",
    breathing_apparatus="breathing apparatus", cut_gloves="cut-resistant gloves",
)  # fmt: skip

CHEMISTRY = vocabulary(
    "chemistry", "chemistry",
    nmc="lithium nickel manganese cobalt", lfp="lithium iron phosphate", nca="lithium nickel cobalt aluminium",
    nimh="nickel metal hydride", lead_acid="lead acid", lto="lithium titanate", sodium_ion="sodium ion",
)  # fmt: skip

PACK_ROLE = vocabulary(
    "pack_role", "what the pack feeds",
    traction="traction", house="living area", refrigeration="refrigeration", body="powered body",
)  # fmt: skip

PYRO_TRIGGER = vocabulary(
    "pyro_trigger", "what fires the pyro-fuse",
    airbag="airbag deployment", belt="pretensioners", crash_sensor="crash sensor", overcurrent="overcurrent",
    rollover="rollover sensor",
)  # fmt: skip

PYRO_PORT = vocabulary(
    "pyro_port", "what it does to the port",
    plug_refused="the plug is refused", no_effect="the plug is still accepted", door_stuck="the port door stays shut",
)  # fmt: skip

PYRO_SEPARATES = vocabulary(
    "pyro_separates", "what it separates",
    pack="the pack from everything", one_pole="one pole of the pack", twelve_volt="12 V from the starter or converter",
    drive="the drive only",
)  # fmt: skip

AIRBAG = vocabulary(
    "airbag", "airbag",
    driver="driver", passenger="front passenger", knee="knee", side="side, in the seat", curtain="curtain",
    centre="centre, between the seats", rear="rear", cushion="seat cushion", external="outside the vehicle",
    rider="rider",
)  # fmt: skip

INFLATOR = vocabulary(
    "inflator", "inflator",
    stored_gas="stored gas", hybrid="hybrid, gas and charge", pyrotechnic="pyrotechnic",
)  # fmt: skip

PANE = vocabulary(
    "pane", "pane",
    windscreen="windscreen", front_side="front side", rear_side="rear side", rear="rear", roof="roof",
    load_area="load area",
)  # fmt: skip

GLASS = vocabulary(
    "glass", "glass",
    laminated="laminated", tempered="tempered", polycarbonate="polycarbonate", none="no glass",
)  # fmt: skip

WHEELS_TURNING = vocabulary(
    "wheels_turning", "wheels turning while it is moved",
    never="never: carry it", walking_pace="walking pace, out of danger only", loose="allowed in tow mode",
)  # fmt: skip

MATERIAL = vocabulary(
    "material", "material",
    boron_steel="ultra-high-strength steel", aluminium="aluminium", composite="carbon or glass composite",
    steel="steel", cast="casting",
)  # fmt: skip

SALT_WATER = vocabulary(
    "salt_water", "after salt water",
    fire_watch="fire watch for days", treat_as_fire="treat as a pack fire to come", no_change="no change stated",
)  # fmt: skip

_HERE: tuple[Vocabulary, ...] = (
    BODY, SIZE, PROPULSION, FUEL, CATEGORY, STEERING, COLOUR, FRONT_FACE, LAMPS, ROOF, HANDLES,
    DOOR_MECHANISM, PORT_COVER, CURRENT, WAKES, REMOTE_WAKE, SELECTOR, AUTO_PARK, PARK_WITHOUT_12V,
    PARKING_BRAKE, READY_SHOWN, METHOD, REACH, TOOL, EFFECT, STAYS_LIVE, PPE, CHEMISTRY, PACK_ROLE,
    PYRO_TRIGGER, PYRO_PORT, PYRO_SEPARATES, AIRBAG, INFLATOR, PANE, GLASS, WHEELS_TURNING,
    MATERIAL, SALT_WATER,
)  # fmt: skip

BY_KEY = index(*_HERE)
