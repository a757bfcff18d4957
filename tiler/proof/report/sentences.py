"""The sentences of the checks: what each says of its label, its sizes and its numbers.

A check is a record; its sentence is put together last, and nothing reads it again.
``{measured}`` and ``{nominal}`` are the sizes of the check, mm; ``{where}`` is its place on the page
and ``{effect}`` what its error does to a strip; all else stands among its numbers.
"""

from __future__ import annotations

from enum import StrEnum


class Says(StrEnum):
    """A sentence with places for the parts of its check."""

    SIZE = "{label} {axis}"
    SIZE_LEANING = f"{SIZE}, its sides lean by {{lean:.2f}} mm"
    FOUND = "{label} {axis}, {where}, {effect}"
    FOUND_LEANING = f"{FOUND}, its sides lean by {{lean:.2f}} mm"

    SQUARE_PLACED = "the {label} square stands in its place"
    SQUARE_MOVED = "the {label} square stands {off:.2f} mm from its place on the page"
    SQUARE_UNLABELLED = "the {label} square does not say its size"
    SQUARE_MISSING = "the {label} square is missing"
    SQUARE_UNDECLARED = "there is a test square that was not declared"
    SQUARE_BROKEN = "a test square is not whole"
    RULE_PLACED = "the {label} ruler line {axis} stands in its place"
    RULE_MOVED = "the {label} ruler line {axis} stands {off:.2f} mm from its place on the page"
    RULE_MISSING = "the {label} ruler line {axis} is missing"
    RULE_UNDECLARED = "there is a ruler line {axis} that was not declared"
    TICKS_EVEN = "the ticks of the {label} ruler line {axis} stand evenly"
    TICKS_UNEVEN = "the ticks of the {label} ruler line {axis} are not all there, or not in their places"
    TICKS_LOOSE = "ticks that do not stand on a ruler line: {count}"

    PAGES_ALL = "all {pages} pages are there once"
    PANES_ALL = "all {pages} pages with {windows} panes and first pages are there once"
    PAGE_MISSING = "{label} is missing"
    PAGE_TWICE = "{label} is there twice"
    PAGE_UNDECLARED = "{label} was not declared"
    PAGE_UNCODED = "there is a page without a page code that was not declared"
    PAGE_ADDED = "a page was added that is not on the page map"
    PAGES_LEFT_OUT = "left out: {label}, with {pieces}; the pieces on the other pages are whole"
    SQUARES_LEFT_OUT = (
        "{label} is missing, and with it the test squares; "
        "the scale is that of the ruler lines and page frames on the other pages"
    )
    SHEET_OF_SEVERAL = "one sheet holds several pages at 100 %, to be cut apart: {label}"
    SHEET_OF_ONE = "a larger sheet holds one page at 100 %, to be cut out: {label}"
    PAGES_SHARED = "{label} stand on one sheet; each page has to be printed on a sheet of its own, as it was made"
    PANE_ELSEWHERE = "{label} is on another page than the panes that it belongs with"
    CODE_OTHER = "the page says {code} where {label} belongs"
    CODE_LOST = "the page has no page code where {label} belongs"
    CODE_TURNED = "the page code {label} is not printed just once and upright"
    ORDER_KEPT = "the pages are in order"
    ORDER_LOST = "the pages are not in the order of the page map"
    PAGE_BETWEEN = "a page of the pattern stands between the pages of the page map"
    HOST_KEPT = "pages {first} to {last} were added to a pattern of {held} pages"
    HOST_CHANGED = "the pattern had {held} pages of its own when these were added, and has {now} now"
    HOST_MOVED = "the pages were added after page {before} of the pattern, and stand elsewhere"

    PAGES_SIZED = "all pages are {label}"
    PAGE_SIZED = "the page is {measured:.1f} × {high:.1f} mm instead of {nominal:.1f} × {stated:.1f} mm"
    PAGES_WHOLE = "no page is cropped, turned or in another unit"
    PAGE_CROPPED = "the CropBox cuts {measured:.1f} mm off the page"
    MEDIA_BOX = "the MediaBox is not written directly at the origin"
    PAGE_TURNED = "the page is turned by {degrees} degrees"
    UNIT = "the page has a UserUnit of {unit:g}"
    UNIT_IGNORED = f"{UNIT}, which some viewers ignore: they print it {{unit:g}} times smaller"

    FRAMES_PLACED = "the page frames stand in their places"
    FRAME_MOVED = "the page frame of {label} stands {measured:.2f} mm from its place on the page"
    FRAME_MISSING = "{label} has no page frame"
    FRAMES_MANY = "{label} has {count} page frames"
    MARKS_MEET = "the marks of {count} seams meet"
    MARKS_APART = "the register marks of {label} and {other} do not meet"
    MARKS_UNLIKE = "{label} and {other} share {count} register marks on one page, {others} on the other"
    MARKS_COUNTED = "register marks of {label}: {count} instead of {wanted}"
    MARK_BROKEN = "a register mark of {label} is not whole, or has another size"
    MARK_MOVED = "a register mark of {label} stands {measured:.2f} mm from its place on the page"
    TILES_JOINED = "{count} tiles put together by their marks"
    TILE_MOVED = "{label} lies {measured:.2f} mm from its place when its marks meet"
    ASSEMBLY_UNKNOWN = "the file does not say how its pages belong together, so its assembly is not proved"
    REWRITTEN = (
        "another program has rewritten the file since it was drafted, without what it says of its pages: its squares "
        "and ruler lines were measured, and how its pages belong together is not proved"
    )
    UNCHANGED = "unchanged since it was drafted"
    CHANGED = "changed since it was drafted, and measured anew"
    COVERED = "the windows leave no gap"
    LEFT_OUT = "{label}: the pages leave a part of it out"
    FALLEN_APART = "{label}: its pages cannot be put together"

    PIECE_SIZED = "{label}: cut length, at a width of {width:.2f} mm"
    PIECE_MISSIZED = "{label}: cut {measured:.2f} × {width:.2f} mm, stated {nominal:.2f} × {stated:.2f} mm"
    PIECE_LOST = "{label}: no page shows it"
    PIECE_LINES = "{label}: {lines}"
    PIECE_CUT = "{label}: it is stated as {cut}, but drawn otherwise"
    NOTCHES_PLACED = "{label}: {count} notches in their places"
    NOTCH_MISSING = "{label}: the notch {notch} is not where it is stated to be"
    LINES_STRAY = "lines that do not belong to any piece there: {lines}"
    LINES_ELSEWHERE = "lines of a piece stand on a page that is not a tile"
    OUTLINES_UNMARKED = "outlines that look like a piece but are not marked as one: {count}"

    WORDS_READ = "all words can be read"
    WORDS_TWISTED = "lines of text that are mirrored, or turned so that nobody can read them: {count}"
    WORDS_UNREAD = 'words that are read otherwise than they are declared: {count}, first "{label}"'
    WORDS_SIDEWAYS = "words are turned sideways"
    WORDS_UNLIKE_PIECE = "words are turned sideways where the piece is not"
    INK_SEEN = "all that is declared is printed, and nothing else"
    INK_LOST = "{label} is not printed as it is declared, {where}"
    INKS_LOST = "in {count} places something is not printed as it is declared, first {label}, {where}"
    INK_ADDED = "something is printed over {label} that is not declared, {where}"
    INKS_ADDED = "in {count} places something is printed that is not declared, first over {label}, {where}"
    WEIGHT_OTHER = "{label} is {measured:.2f} mm heavy, and no such line is declared"
    INK_BESIDE = "something that is not declared is printed beside the pieces, {where}"

    SAID_KEPT = "what the words say is what is drawn"
    SAID_SIZE = "{label}: the words say {nominal:.2f} mm, and it is {measured:.2f} mm"
    SAID_UNLIKE = "{label} is printed otherwise than it is drawn, or cannot be read"

    ITSELF_KEPT = "what the file declares agrees with itself"
    ITSELF_UNPRINTED = "the file declares {label}, and not that it is printed"
    ITSELF_UNLIKE = "what is printed as {label} is declared to have another size"
    ITSELF_SHAPELESS = "the file declares {label} that has not its shape"
    ITSELF_OPEN = "the file declares cut lines of {label} that do not go round it once"
    ITSELF_UNSHARED = "the file declares lines of {label} for other sizes than its layer shows"
    ITSELF_COVERED = "the file declares a grey area over {label}"

    LAYERS_KEPT = "each of the {count} sizes has its own layer"
    LAYER_COUNTED = "the layer {label} is there {count} times, not once"
    LAYER_UNDECLARED = "something is on the layer {label}, which was not declared"
    LAYER_ADDED = "the file has the layer {label}, which was not declared"
    LAYER_CONDITION = "whether the layer {label} is printed depends on {what}"
    LAYERS_CONDITION = "what is printed depends on {what}"
    LAYERS_OFF = "switched off and not printed until switched on: {label}"
    PRINTER_NAMED = "drawn at {across:.2f} % across and {down:.2f} % down for the printer {label}"
    PRINTER_UNNAMED = "the page does not say, in type that is large enough, that it is only for the printer {label}"
    PRINTER_UNPRINTED = "the file does not declare that its page {count} is only for the printer {label}"
    PREFERENCES_KEPT = "the file asks for 100 %, one side, and its own paper"
    PREFERENCES_LOST = "{lost}"
    PREFERENCES_AGAINST = "the file asks viewers for {label}, so the print is not what was drawn"
    CARRIED_NOTHING = "no page carries anything besides what is drawn on it"
    CARRIED = "the page carries {label}, and no page as it is made does; another reader may show or print it otherwise"
    CARRIED_BY_FILE = "the file carries {label}, and no file as it is made does; it may change what is printed"
    DOCUMENT_KEPT = "page labels, outline, title and language are there"
    DOCUMENT_LOST = "it has lost its {lost}"
    FONTS_KEPT = "every font is embedded"
    FONTS_LOST = "not embedded: {lost}"

    DECLARATION_BROKEN = "what the file declares cannot be read: {reason}"
    DECLARATION_MANY = "{count} different declarations are attached, and nothing tells which of them is the file's own"
    DECLARATION_NONE = (
        "pages are marked as those of a drafted file, and what the file declares of them is gone; draft it again"
    )
    TAGS_LOST = "the file declares pages, and none of its pages is marked as one of them; draft it again"
    AXIS_UNMEASURED = "nothing measures the scale {axis} the page"
    NOT_MEASURED = "the page holds {label}; a test square in one of them is not measured"
    UNSEEN = (
        "a {label} square is written as {across:.2f} × {down:.2f} mm, but it cannot be seen in the rendered page "
        "(hidden, covered, cut off or without colour), so it does not count"
    )
    GUESSED = (
        "a square without a label measures {across:.2f} × {down:.2f} mm; if it is meant to be {label}, "
        'say so with --expect "{label}"'
    )
