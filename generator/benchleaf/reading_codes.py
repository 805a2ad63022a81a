"""What ``benchleaf explain CODE`` says about each thing that can be wrong before a record means anything.

One entry a code, of the reading of files and of YAML. What a key may hold is explained with the record kinds, what a
record may say with the checks.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

READING_CODES: Mapping[str, str] = MappingProxyType(
    {
        # The folder
        "content-missing": "The folder with the records is not there, or is a file.",
        "dead-link": "A link in the content folder leads to nothing, or in a circle.",
        "file-ending": "A record is read only from files that end in .yaml or .md. This one was read, but other "
        "programs "
        "go by the ending.",
        "file-too-large": "A record file is larger than 2 MB. It is most likely not a record, so it was not opened. "
        "A record is text; photos stand in files of their own.",
        "folder-link": "A link to a folder is not followed: it could lead in a circle, and would make each record in "
        "it stand twice.",
        "folder-too-deep": "Folders stand in folders more than twelve deep. A library needs two.",
        "library-too-large": "All record files together are larger than a library can be, so none was read.",
        "link-leaves-content": "A link leads out of the content folder. What is not in the folder would be "
        "missing on "
        "the next computer, and could be published by mistake.",
        "names-clash": "Two names differ only in upper and lower case, or in how an accent is stored. On some "
        "systems "
        "they are one file, and one of the two would be lost.",
        "not-a-file": "A pipe, a socket or a device stands in the content folder. It was not opened.",
        "not-a-picture": "The name says PNG, JPEG, WebP or SVG, the content is something else.",
        "not-utf-8": "The text is not saved as UTF-8, so letters such as Ω, ° and ä cannot be told for certain.",
        "odd-file-name": "The name of the file does not work on every system, in every archive or as an address. "
        "Letters, digits, hyphens, underscores and dots do.",
        "unreadable-file": "The system did not let the file or folder be read.",
        # The text as a whole
        "control-character": "An invisible character stands in the text. It is not printed, yet it would make two "
        "words that look alike differ.",
        "empty-file": "The file has nothing in it, or only comments. An empty record would be taken for a missing one.",
        "front-matter-missing": "Codes, symptoms and articles begin with a line ---, then the record, then "
        "another ---, "
        "then the prose.",
        "front-matter-open": "The record at the beginning has no line --- after it, so its end cannot be told.",
        "merge-conflict": "Two people changed the same lines, and the file still has both versions with the marks "
        "<<<<<<<, ======= and >>>>>>> between them.",
        "more-mistakes": "A hundred mistakes were found in one file; the rest is not listed.",
        "several-documents": "A line --- or ... begins a second record. A file has one.",
        # What YAML allows and a record does not
        "alias": "A word after * stands for text written elsewhere in the file. "
        "A record says each thing where it stands.",
        "anchor": "A word after & gives a name to the text that follows, to be repeated elsewhere. A record "
        "says each "
        "thing where it stands.",
        "double-key": "A key stands twice in one group. Other programs silently keep the last of them.",
        "key-not-text": "A list, a group or nothing stands where a key is expected.",
        "list-in-text": "A line beginning with '- ' stands below a key that already has its text. YAML takes it "
        "as more "
        "text; whoever wrote it most likely meant a list.",
        "merge-key": "The key << takes keys over from elsewhere. A record says each thing where it stands.",
        "switch-word-key": "Old YAML programs turn the unquoted keys on, off, yes, no, y and n into true and "
        "false. With "
        "quotes around it such a key, for instance a contact named N, is kept by all.",
        "tag": "A word after ! tells YAML what kind of value follows. In a record the key decides that.",
        "too-deep": "Lists and groups stand in each other more than forty deep. No record needs ten.",
        # What is no YAML
        "bad-escape": "In double quotes a backslash begins a special character, such as \\n for a new line. "
        "This one is "
        "none. In single quotes a backslash is a backslash.",
        "bad-indent": "A line is pushed in too far, not far enough, or where nothing can be pushed in. Lines of "
        "one level "
        "begin at the same column, two spaces in from the level above.",
        "broken-yaml": "The text is no YAML, and no better reason is known.",
        "colon-in-list": "A colon inside brackets, with no space after it. A contact is written with a dot.",
        "comment-in-text": "A space and # end unquoted text: what follows is a comment, and is not shown to anybody.",
        "missing-colon": "A line has no colon, so it is no key; and it is not pushed in, so it is not more of "
        "the text "
        "above.",
        "missing-comma": "Two entries inside brackets have no comma between them, or the bracket is not closed.",
        "missing-space": "A colon after a key has a space after it; without one, key and value are one word.",
        "odd-start": "Unquoted text begins with a sign that means something "
        "in YAML: - [ { * & ! > | % @ ? or a backtick.",
        "open-bracket": "A bracket is opened and not closed.",
        "open-quote": "A quote is opened and not closed.",
        "stray-bracket": "A closing bracket, or something after one, stands where nothing can.",
        "stray-comma": "Inside brackets a comma has no entry before it.",
        "tab-indent": "A line is pushed in with a tab. Editors show tabs at different widths, "
        "so YAML allows only spaces.",
        "text-after-quote": "Quotes stand around a part of the text only, or an apostrophe inside the quotes ended it.",
        "unquoted-question": "Between brackets a question mark that is followed by a comma or a bracket would end the "
        "text there. Quotes around the whole text keep it.",
        "unquoted-colon": "A colon and a space inside unquoted text look like a key and its value. Text with "
        "them goes on "
        "the lines below 'text: |', or between quotes.",
    }
)
