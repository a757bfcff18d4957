"""The sentences of the checks: what each says of its label, its sizes and its numbers.

A check is a record; its sentence is put together last, and nothing reads it again.
``{measured}`` and ``{nominal}`` are the sizes of the check, mm; ``{where}`` is its place on the page
and ``{effect}`` what its error does to a strip; all else stands among its numbers.
"""

from __future__ import annotations

from enum import StrEnum

from tiler.languages.catalogue import noted


class Says(StrEnum):
    """A sentence with places for the parts of its check."""

    SIZE = noted("{label} {axis}")
    SIZE_LEANING = noted("{label} {axis}, its sides lean by {lean:.2f} mm")
    FOUND = noted("{label} {axis}, {where}, {effect}")
    FOUND_LEANING = noted("{label} {axis}, {where}, {effect}, its sides lean by {lean:.2f} mm")

    SQUARE_PLACED = noted("the {label} square stands in its place")
    SQUARE_MOVED = noted("the {label} square stands {off:.2f} mm from its place on the page")
    SQUARE_UNLABELLED = noted("the {label} square does not say its size")
    SQUARE_MISSING = noted("the {label} square is missing")
    SQUARE_UNDECLARED = noted("there is a test square that was not declared")
    SQUARE_BROKEN = noted("a test square is not whole")
    RULE_PLACED = noted("the {label} ruler line {axis} stands in its place")
    RULE_MOVED = noted("the {label} ruler line {axis} stands {off:.2f} mm from its place on the page")
    RULE_MISSING = noted("the {label} ruler line {axis} is missing")
    RULE_UNDECLARED = noted("there is a ruler line {axis} that was not declared")
    TICKS_EVEN = noted("the ticks of the {label} ruler line {axis} stand evenly")
    TICKS_UNEVEN = noted("the ticks of the {label} ruler line {axis} are not all there, or not in their places")
    TICKS_LOOSE = noted("ticks that do not stand on a ruler line: {count}")

    PAGES_ALL = noted("all {pages} pages are there once")
    PANES_ALL = noted("all {pages} pages with {windows} panes and first pages are there once")
    PAGE_MISSING = noted("{label} is missing")
    PAGE_TWICE = noted("{label} is there twice")
    PAGE_UNDECLARED = noted("{label} was not declared")
    PAGE_UNCODED = noted("there is a page without a page code that was not declared")
    PAGE_ADDED = noted("a page was added that is not on the page map")
    PAGES_LEFT_OUT = noted("left out: {label}, with {pieces}; the pieces on the other pages are whole")
    SQUARES_LEFT_OUT = noted(
        "{label} is missing, and with it the test squares; "
        "the scale is that of the ruler lines and page frames on the other pages"
    )
    SHEET_OF_SEVERAL = noted("one sheet holds several pages at 100 %, to be cut apart: {label}")
    SHEET_OF_ONE = noted("a larger sheet holds one page at 100 %, to be cut out: {label}")
    PAGES_SHARED = noted(
        "{label} stand on one sheet; each page has to be printed on a sheet of its own, as it was made"
    )
    PANE_ELSEWHERE = noted("{label} is on another page than the panes that it belongs with")
    CODE_OTHER = noted("the page says {code} where {label} belongs")
    CODE_LOST = noted("the page has no page code where {label} belongs")
    CODE_TURNED = noted("the page code {label} is not printed just once and upright")
    ORDER_KEPT = noted("the pages are in order")
    ORDER_LOST = noted("the pages are not in the order of the page map")
    PAGE_BETWEEN = noted("a page of the pattern stands between the pages of the page map")
    HOST_KEPT = noted("pages {first} to {last} were added to a pattern of {held}")
    HOST_KEPT_ONE = noted("page {first} was added to a pattern of {held}")
    HOST_CHANGED = noted("the pattern had {held} pages of its own when these were added, and has {now} now")
    HOST_MOVED = noted("the pages were added after page {before} of the pattern, and stand elsewhere")

    PAGES_SIZED = noted("all pages are {label}")
    PAGE_SIZED = noted("the page is {measured:.1f} × {high:.1f} mm instead of {nominal:.1f} × {stated:.1f} mm")
    PAGES_WHOLE = noted("no page is cropped, turned or in another unit")
    PAGE_CROPPED = noted("the CropBox cuts {measured:.1f} mm off the page")
    MEDIA_BOX = noted("the MediaBox is not written directly at the origin")
    PAGE_TURNED = noted("the page is turned by {degrees} degrees")
    DRAWING_UNIT = noted("one unit of the drawing is {across:.4f} mm across and {down:.4f} mm down, not 1 mm")
    UNIT = noted("the page has a UserUnit of {unit:g}")
    UNIT_IGNORED = noted(
        "the page has a UserUnit of {unit:g}, which some viewers ignore: they print it {unit:g} times smaller"
    )

    FRAMES_PLACED = noted("the page frames stand in their places")
    FRAME_MOVED = noted("the page frame of {label} stands {measured:.2f} mm from its place on the page")
    FRAME_MISSING = noted("{label} has no page frame")
    FRAMES_MANY = noted("{label} has {count} page frames")
    MARKS_MEET = noted("the marks of {count} seams meet")
    MARKS_APART = noted("the register marks of {label} and {other} do not meet")
    MARKS_UNLIKE = noted("{label} and {other} share {count} register marks on one page, {others} on the other")
    MARKS_COUNTED = noted("register marks of {label}: {count} instead of {wanted}")
    MARK_BROKEN = noted("a register mark of {label} is not whole, or has another size")
    MARK_MOVED = noted("a register mark of {label} stands {measured:.2f} mm from its place on the page")
    TILES_JOINED = noted("{count} tiles put together by their marks")
    TILE_MOVED = noted("{label} lies {measured:.2f} mm from its place when its marks meet")
    ASSEMBLY_UNKNOWN = noted("the file does not say how its pages belong together, so its assembly is not proved")
    REWRITTEN = noted(
        "another program has rewritten the file since it was drafted, without what it says of its pages: its squares "
        "and ruler lines were measured, and how its pages belong together is not proved"
    )
    UNCHANGED = noted("unchanged since it was drafted")
    CHANGED = noted("changed since it was drafted, and measured anew")
    COVERED = noted("the windows leave no gap")
    LEFT_OUT = noted("{label}: the pages leave a part of it out")
    FALLEN_APART = noted("{label}: its pages cannot be put together")

    PIECE_SIZED = noted("{label}: cut length, at a width of {width:.2f} mm")
    PIECE_MISSIZED = noted("{label}: cut {measured:.2f} × {width:.2f} mm, stated {nominal:.2f} × {stated:.2f} mm")
    PIECE_LOST = noted("{label}: no page shows it")
    PIECE_LINES = noted("{label}: {lines}")
    PIECE_CUT = noted("{label}: it is stated as {cut}, but drawn otherwise")
    NOTCHES_PLACED = noted("{label}: {count} notches in their places")
    NOTCH_MISSING = noted("{label}: the notch {notch} is not where it is stated to be")
    LINES_STRAY = noted("lines that do not belong to any piece there: {lines}")
    LINES_ELSEWHERE = noted("lines of a piece stand on a page that is not a tile")
    OUTLINES_UNMARKED = noted("outlines that look like a piece but are not marked as one: {count}")

    WORDS_READ = noted("all words can be read")
    WORDS_TWISTED = noted("lines of text that are mirrored, or turned so that nobody can read them: {count}")
    WORDS_UNREAD = noted('words that are read otherwise than they are declared: {count}, first "{label}"')
    WORDS_SIDEWAYS = noted("words are turned sideways")
    WORDS_UNLIKE_PIECE = noted("words are turned sideways where the piece is not")
    INK_SEEN = noted("all that is declared is printed, and nothing else")
    INK_LOST = noted("{label} is not printed as it is declared, {where}")
    INKS_LOST = noted("in {count} places something is not printed as it is declared, first {label}, {where}")
    INK_ADDED = noted("something is printed over {label} that is not declared, {where}")
    INKS_ADDED = noted("in {count} places something is printed that is not declared, first over {label}, {where}")
    WEIGHT_OTHER = noted("{label} is {measured:.2f} mm heavy, and no such line is declared")
    INK_BESIDE = noted("something that is not declared is printed beside the pieces, {where}")

    SAID_KEPT = noted("what the words say is what is drawn")
    SAID_SIZE = noted("{label}: the words say {nominal:.2f} mm, and it is {measured:.2f} mm")
    SAID_UNLIKE = noted("{label} is printed otherwise than it is drawn, or cannot be read")

    ITSELF_KEPT = noted("what the file declares agrees with itself")
    ITSELF_UNPRINTED = noted("the file declares {label}, and not that it is printed")
    ITSELF_UNLIKE = noted("what is printed as {label} is declared to have another size")
    ITSELF_SHAPELESS = noted("the file declares {label} that has not its shape")
    ITSELF_OPEN = noted("the file declares cut lines of {label} that do not go round it once")
    ITSELF_UNSHARED = noted("the file declares lines of {label} for other sizes than its layer shows")
    ITSELF_PALE = noted("the file declares lines of {label} in a colour that is too pale to print")
    ITSELF_UNSUMMED = noted("the file declares sections of {label} that do not make up its sewn length")
    ITSELF_UNSEWN = noted("the file declares {label} longer or shorter than what is sewn of it and its ends")
    ITSELF_MIRRORED = noted("the file declares lines of {label} that bend as a mirror image of its edge would")
    ITSELF_UNPARALLEL = noted("the file declares lines of {label} that do not run beside each other as they must")
    ITSELF_COVERED = noted("the file declares a grey area over {label}")

    LAYERS_KEPT = noted("each of the {count} sizes has its own layer")
    LAYER_COUNTED = noted("the layer {label} is there {count} times, not once")
    LAYER_UNDECLARED = noted("something is on the layer {label}, which was not declared")
    LAYER_ADDED = noted("the file has the layer {label}, which was not declared")
    LAYER_CONDITION = noted("whether the layer {label} is printed depends on {what}")
    LAYERS_CONDITION = noted("what is printed depends on {what}")
    LAYERS_OFF = noted("switched off and not printed until switched on: {label}")
    PRINTER_NAMED = noted("drawn at {across:.2f} % across and {down:.2f} % down for the printer {label}")
    PRINTER_UNNAMED = noted(
        "the page does not say, in type that is large enough, that it is only for the printer {label}"
    )
    PRINTER_UNPRINTED = noted("the file does not declare that its page {count} is only for the printer {label}")
    PREFERENCES_KEPT = noted("the file asks for 100 %, one side, and its own paper")
    PREFERENCES_LOST = "{lost}"
    PREFERENCES_AGAINST = noted("the file asks viewers for {label}, so the print is not what was drawn")
    CARRIED_NOTHING = noted("no page carries anything besides what is drawn on it")
    CARRIED = noted(
        "the page carries {label}, and no page as it is made does; another reader may show or print it otherwise"
    )
    CARRIED_BY_FILE = noted("the file carries {label}, and no file as it is made does; it may change what is printed")
    DOCUMENT_KEPT = noted("page labels, outline, title and language are there")
    DOCUMENT_LOST = noted("it has lost its {lost}")
    FONTS_KEPT = noted("every font is embedded")
    FONTS_LOST = noted("not embedded: {lost}")

    DECLARATION_BROKEN = noted("what the file declares cannot be read: {reason}")
    DECLARATION_MANY = noted(
        "{count} different declarations are attached, and nothing tells which of them is the file's own"
    )
    DECLARATION_NONE = noted(
        "pages are marked as those of a drafted file, and what the file declares of them is gone; draft it again"
    )
    TAGS_LOST = noted("the file declares pages, and none of its pages is marked as one of them; draft it again")
    AXIS_UNMEASURED = noted("nothing measures the scale {axis} the page")
    NOT_MEASURED = noted("the page holds {label}; a test square in one of them is not measured")
    PICTURES_NOT_MEASURED = noted(
        "the page holds pictures; a test square in one of them is not measured: where it is the picture of a printed "
        "page, say --scan"
    )
    UNSEEN = noted(
        "a {label} square is written as {across:.2f} × {down:.2f} mm, but it cannot be seen in the rendered page "
        "(hidden, covered, cut off or without colour), so it does not count"
    )
    GUESSED = noted(
        "a square without a label measures {across:.2f} × {down:.2f} mm; if it is meant to be {label}, "
        'say so with --expect "{label}"'
    )
    PASSED = noted(
        "square {number} ({label}), {where}, reads like a piece or a sketch and is not counted; it is off by {off}; "
        "if it is the test square, say so with --only {number}"
    )
    SIZES_OPEN = noted(
        "square {number}, {where}, names more than one size: {readings}; say with --expect which of them is meant"
    )
    LINE_OPEN = noted(
        "the words at a ruler line {axis}, {where}, name more than one size: {readings}; "
        "say with --expect which of them is meant"
    )
    EDGES_OPEN = noted("square {number} ({label}), {where}: {readings}; nothing tells which edge of its line is meant")
    SQUARES_OPEN = noted(
        "the squares of the page disagree: {readings}; say with --only which of them is the test square"
    )
    UNEXPECTED = noted("no square is near the {label} that --expect asks for; what labels say was measured")

    SCANNED = noted(
        "measured in a picture of {wide} × {high} pixels, {dots:.0f} to the inch, to ± {error:.2f} % across and "
        "± {error_down:.2f} % down"
    )
    PHOTOGRAPHED = noted(
        "measured in a photo of {wide} × {high} pixels by the bank card in it, to ± {error:.2f} % across and "
        "± {error_down:.2f} % down"
    )
    PHOTO_COARSE = noted(
        "the photo tells a length to ± {error:.2f} % only, and nothing is decided by more than ± {most:.2f} %: take it "
        "from straight above, from further away and larger, with the card close to the squares"
    )
    BY_SHEET = noted(
        "measured in a photo of {wide} × {high} pixels by the edges of its sheet, to ± {error:.2f} % across and "
        "± {error_down:.2f} % down, the size of the sheet itself apart"
    )
    SHEET_COARSE = noted(
        "by the edges of its sheet a length of 100 mm measures {across:.1f} mm across and {down:.1f} mm down, to "
        "± {error:.1f} mm: too coarse to call it right; lay a bank card on the page, or hold a ruler to its long lines"
    )
    SCANNER_UNKNOWN = noted(
        "the error of the scanner itself is not known, and may be some tenths of a percent: scan again with a bank "
        "card on the glass and say --card, or with two rulers at a right angle and say --ruler, and it is taken out"
    )
    SCANNER_BY_CARD = noted(
        "by the card on the glass the picture is off by {across:+.2f} % across and {down:+.2f} % down, which is "
        "taken out; a card itself may be off by {made:.2f} %"
    )
    SCANNER_BY_RULERS = noted(
        "by the rulers on the glass the picture is off by {across:+.2f} % across and {down:+.2f} % down, which is "
        "taken out; this may itself be off by {made:.2f} %, as no ruler is exact"
    )
    RULER_ACROSS = noted(
        "by the ruler on the glass the picture is off by {across:+.2f} % across, which is taken out, and may itself be "
        "off by {made:.2f} %; it tells nothing of the other way: lay a second ruler at a right angle to it"
    )
    RULER_DOWN = noted(
        "by the ruler on the glass the picture is off by {down:+.2f} % down, which is taken out, and may itself be "
        "off by {made:.2f} %; it tells nothing of the other way: lay a second ruler at a right angle to it"
    )
    RULER_ASKEW = noted(
        "the ruler on the glass lies askew by {degrees:.0f} degrees, so it tells the scanner's error neither across "
        "nor down: lay it along an edge of the glass, or two at a right angle, and scan again"
    )
    RULER_TELLS_NOT = noted(
        "a length of 100 mm measures {hundred:.2f} mm {axis}, where the ruler on the glass does not tell the scanner's "
        "own error: lay two rulers at a right angle to each other, along the edges of the glass, and scan again"
    )
    SCAN_BETWEEN = noted(
        "a length of 100 mm measures {hundred:.2f} mm {axis}, and so near to what is right the scanner's own error may "
        "decide: scan again with a bank card on the glass, and say --card"
    )
    SCAN_CLOSE = noted(
        "a length of 100 mm measures {hundred:.2f} mm {axis}, to ± {error:.2f} mm: too near to the bound of what is "
        "right to say on which side of it"
    )
    SCAN_DISAGREES = noted(
        "{label} {axis} measures {measured:.2f} mm of {nominal:.2f} mm, which does not agree with the others: see that "
        "the paper lies flat, and take the picture again"
    )
    SQUARES_DISAGREE = noted(
        "squares of unlike size may be the expected one: {label}; crop the picture to the one that is meant"
    )
    MIRRORED = noted("the page is shown as in a mirror: it was printed or scanned the wrong way round")
    SCAN_TURNED = noted("the page lies turned by {degrees} degrees in the picture")
    SCAN_LEANS = noted(
        "the sides of the {label} square lean by {lean:.2f} mm: the page was fed askew, or does not lie flat"
    )
