"""Closed vocabularies of what people say about a vehicle and its scene that no record states.

What is said with these is recognised and shown; it never ranks. Each label is also the canonical
phrase: read again, it gives the same value (tested).
"""

from catalog.domain.terms import Vocabulary, index, vocabulary

MARKING = vocabulary(
    "marking", "marking",
    taxi="taxi", police="police markings", ambulance="ambulance markings", fire="fire service markings",
    delivery="delivery firm's name on it", post="post van markings", school="school bus markings",
    learner="learner plates", hire="hire car", works="works vehicle", security="security markings",
    recovery="recovery markings",
)  # fmt: skip

WHEELS = vocabulary(
    "wheels", "wheels",
    steel="steel wheels", alloy="alloy wheels", spoked="spoked wheels", covered="wheels covered by smooth discs",
    black="black wheels", dual_rear="twin rear wheels", wire="wire wheels", flat="flat tyre",
)  # fmt: skip

START = vocabulary(
    "start", "start",
    button="start button", key_="key in the ignition", card="key card to start", screen="start on the screen",
)  # fmt: skip

SCREEN = vocabulary(
    "screen", "screen",
    portrait="portrait screen", landscape="landscape screen", several="several screens", none="no screen",
)  # fmt: skip

SCENE = vocabulary(
    "scene", "scene",
    fire="on fire", smoke="smoke", vapour="vapour", jet="jet of flame", hiss="hissing", pop="popping",
    odour="chemical smell", leak="leaking",
    water="in water", water_deep="in deep water", water_salt="in salt water", recovered="pulled out of the water",
    on_wheels="on its wheels", left_down="left side down", right_down="right side down", on_side="on its side",
    on_roof="on its roof", rolled="rolled over", slope="on a slope", wheel_off_ground="wheel off the ground",
    damage="damaged", damage_front="front damaged", damage_rear="rear damaged", damage_left="left side damaged",
    damage_right="right side damaged", damage_under="damaged underneath", damage_roof="roof crushed",
    charger_attached="plugged in to a charger", trailer="with a trailer", towing="being towed",
    on_carrier="loaded on a transporter", overhead_line="power line on it",
    under_vehicle="it is under another vehicle", over_vehicle="it is on top of another vehicle",
    enclosed="in an enclosed space",
    airbags="airbags fired", casualty="somebody hurt", trapped="somebody trapped",
    danger_to_life="somebody is dying", nobody_inside="nobody inside",
    port_damaged="charge port damaged", port_reachable="charge port can be reached",
    power_alive="its power is still on", power_dead="its power is dead", ready_shown="dash says ready",
    converted="converted to electric", orange_cable="orange cable showing",
    coupler_carried="the crew has a plug for it",
    caller_inside="caller is inside it", caller_beside="caller is beside it", caller_away="caller is across the road",
    caller_passing="caller drove past",
)  # fmt: skip

_HERE: tuple[Vocabulary, ...] = (MARKING, WHEELS, START, SCREEN, SCENE)

BY_KEY = index(*_HERE)
