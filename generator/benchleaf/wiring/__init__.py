"""The wiring graph: where a contact leads, what is still live, what a conversion changed.

For whoever computes on it (nothing here reads a file, and everything returned is frozen):

``wiring.Wiring.of(built)`` or ``configurations.wiring_of(derived, built)``
    The wiring of a machine in one configuration: ``graph``, ``nets``, ``net_of``, ``devices``, ``supplies``,
    ``conversions``, ``unknown_ends``. Make it once a configuration and keep it.
``still_live.live_map(wiring, isolated, open_ends, proved_dead)`` → ``LiveMap``
    What can be live in one state; about a millisecond for a machine of 300 contacts. ``isolated``: names of recorded
    isolating devices (``XP1``, ``Q1``, ``Q1.1+2``, ``open Q1``); a name that is none isolates nothing. ``open_ends``:
    (cable, place), the place a connector, an item, or a contact of either. ``proved_dead``: energies whose stored
    charge is proved gone. ``is_live(contact)``; ``ways(node)`` and ``contacts`` with the source and how sure it is
    (directly, through a load, not recorded); ``behind(source)`` = what keeps a conversion alive in the end; ``loose`` =
    live plugs and leads in the air; ``nothing_recorded`` = every contact counts as live. Names of sources: those of the
    record, ``stored:mains:0`` (a recorded charge), ``stored:mains:?`` (nobody recorded whether charge stays),
    ``not recorded:A1-J4`` (nobody recorded what is plugged in there).
``isolation_states.isolation_states(wiring)``
    Nothing, each device alone, the recorded sequence, all together; each with ``nets`` (just after) and ``fed_nets``
    (stored charge proved gone), surest first, each net with its points to prove it dead or its gap.
``live_nets.union_of({label: nets})``
    The same over several configurations: live in one is live.
``control_sheet.control_sheet(wiring, shop)``
    The energy-control sheet in the order of 29 CFR 1910.147(d), over every kind of energy.
``trace.trace(wiring, contact, open_ends)``, ``trace.traces({label: wiring}, …)``
    Every end a contact reaches, by what way and through what.
``wire_list.wire_list(wiring)``, ``wire_list.connection_table(wiring, owner)``
    The wire list, and the table of one connector or item.
``difference.difference(before, after)``
    Added, removed, re-routed; ``applied_to(connections(before)) == connections(after)``.
``bypass.bypass_register(now, before)``, ``bypass.disclosure(now, before)``
    Signals that no longer come from their own source; what the owner is told. ``configurations.unmodified`` gives
    ``before``.

A node is a contact: ``A1-J3.7`` on its host, ``W3@A1-J3.7`` on the cable plugged in there, ``W3@parked.1`` on a plug
left free, ``W2@F1.1`` a lead landed on a terminal. ``contacts.contact_of`` takes the cable away, ``contacts.shown``
writes it after IEC 61666 (``A1-J3:7``).
"""
