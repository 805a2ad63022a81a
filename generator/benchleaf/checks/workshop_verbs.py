"""Verbs a step may start with. General workshop English; a first word not listed here is asked about, not refused."""

from __future__ import annotations

VERBS = frozenset(
    """
    add adjust align allow apply arm ask attach back balance bend bleed block blot blow brace break bring brush
    calibrate call cap carry catch change charge check chock choose clamp clean clear clip close coil collect
    compare confirm connect copy count cover crimp cut damp dial disassemble discard discharge disconnect disengage
    dismantle dispose do drain draw drill drive drop dry ease empty enable energise engage enter erase expect expose
    extend fasten feed feel fetch file fill find finish fit fix flush fold follow free get give go grease grip
    ground guide hang heat hold hook identify inflate insert inspect install isolate join jot keep key label land
    latch lay lead leave let level lever lift light line link listen look loosen lower lubricate make mark match
    measure mop mount move note nudge observe offer oil open operate order orient pack pad park part peel perform
    photograph pick pinch place plug point position pour power prepare press prime print prise probe protect prove
    provide pull pump purge push put raise reach read rebuild reconnect record refill refit release relieve remove
    renew repeat replace report reset rest restart restore retighten return reverse rinse roll rotate route rub run
    save scan scrape screw seal seat secure see select send separate set shake shield show shut sign slacken slide
    slip smell snap soak solder spin splice spray spread spring squeeze stand start stick stop store straighten
    strip support swing switch tack take tap tape tell test thread tie tighten tilt tip touch trace transfer trim
    try tuck turn unclamp unclip uncover undo unfold unhook unlatch unload unlock unpack unplug unscrew unwind use
    vacuum vent verify wait walk warm wash watch wear weigh wind wipe withdraw work wrap write
    """.split()  # noqa: SIM905 - a list of words is read as words
)
