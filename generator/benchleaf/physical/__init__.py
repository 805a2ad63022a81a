"""The machine as screws, covers, cables, lines, ties and energy, and what a procedure does to it.

For pages, paper and commands, all values are frozen and bring their words:

- ``findings``: ``replays_of(derived, machine, procedure)``, ``reassemblies_of(...)``, ``ground_of(...)``, remembered;
- ``replay``: ``Replay`` with its ``steps``, ``own_steps``, ``end``, ``after(n)`` and ``all_problems()``;
- ``reassembly``: ``Reassembly`` with ``steps`` of ``instructions`` (words, tool, count, direction, torque, notes),
  ``ledger``, ``stopped_at``;
- ``ledger``: ``ledger(ground, state)`` and ``changes(before, after)``;
- ``state_sheet``: ``sheets(replay)``, the first before step 1, one after each own step, with ``stop`` and ``holds``;
- ``owed_checks``: ``owed_checks(ground, state)``, the return-to-service list;
- ``least_path``, ``operations``: the fewest operations to an item.

Inside: ``state`` and ``effects`` say what there is and what a verb changes, ``rules`` what must not be, ``verbs`` which
rules a verb obeys, ``ground`` what is looked up of a machine in one configuration.
"""
