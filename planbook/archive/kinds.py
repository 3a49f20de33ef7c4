"""Kinds of findings about releases and archives; not how they are found."""

from planbook.text import Kind, Severity

_ERROR, _WARNING, _NOTE = Severity.ERROR, Severity.WARNING, Severity.NOTE

VERSION_NOT_A_NUMBER = Kind(
    "REL01",
    "version-not-a-number",
    _ERROR,
    "The version of a design that is to be released is not made of two or three whole numbers with dots.",
    "Releases are put in order by their numbers, and the number says how much has changed.",
    'version = "spring"',
    'version = "1.2"',
)
VERSION_TAKEN = Kind(
    "REL02",
    "version-taken",
    _ERROR,
    "There is a release with this version already, and it holds something else.",
    "What was released may be in other people's hands; it is never changed. A change needs a number of its own.",
    'version = "1.0"  # released, and changed since',
    'version = "1.0.1"',
)
VERSION_TOO_SMALL = Kind(
    "REL03",
    "version-too-small",
    _ERROR,
    "The version does not say how much has changed since the release before it.",
    "A third number is for words and pictures, with which nothing is cut differently; a second number for sizes, "
    "stencils, steps, lumber or fits, with which parts of two versions do not go together; a first number for another "
    "object, with pieces that come or go.",
    'version = "1.0.1"  # after 1.0, with a larger stencil',
    'version = "1.1"',
)
VERSION_OUT_OF_ORDER = Kind(
    "REL04",
    "version-out-of-order",
    _ERROR,
    "The version is lower than that of the first release.",
    "Nothing can be said about what has changed since the one before, because there is none.",
    'version = "0.9"  # 1.0 is released',
    'version = "1.1"',
)
FILE_NAME_UNSAFE = Kind(
    "REL05",
    "file-name-unsafe",
    _ERROR,
    "A file of the design has a name that some system cannot hold.",
    "A release must open wherever it is restored.",
    'file = "aux.svg"',
    'file = "outline.svg"',
)
OBJECT_CHANGED = Kind(
    "ARC01",
    "object-changed",
    _ERROR,
    "A file of the archive does not have the checksum that it is named by.",
    "The disk or somebody changed it, so that it is no longer what was released. Put it back from a copy of the "
    "archive; `planbook archive import` of an export takes it from there.",
    "objects/ab/cdef... with one byte changed",
    "objects/ab/cdef... as it was written",
)
OBJECT_MISSING = Kind(
    "ARC02",
    "object-missing",
    _ERROR,
    "A release names a file that is not in the archive.",
    "The release is not whole. Put the file back from a copy of the archive.",
    "objects/ab without cdef...",
    "objects/ab/cdef...",
)
MANIFEST_UNREADABLE = Kind(
    "ARC03",
    "manifest-unreadable",
    _ERROR,
    "The manifest of a release is not what planbook wrote.",
    "Nothing of the release can be trusted until the manifest is put back from a copy of the archive.",
    "releases/curlew-box@1.0.json changed by hand",
    "releases/curlew-box@1.0.json as it was written",
)
STRANGE_FILE = Kind(
    "ARC04",
    "strange-file",
    _WARNING,
    "The archive holds a file or link that is no part of it.",
    "It does no harm, but whoever put it there may look for it elsewhere. Move it out of the archive.",
    "objects/notes.txt",
    "notes.txt beside the archive",
)
CATALOGUE_WRONG = Kind(
    "ARC05",
    "catalogue-wrong",
    _WARNING,
    "The catalogue of the archive was missing, broken or did not agree with the releases.",
    "It only repeats what the releases say, and has been made again from them.",
    "catalogue.sqlite of another archive",
    "catalogue.sqlite made by planbook",
)
OBJECT_UNUSED = Kind(
    "ARC06",
    "object-unused",
    _NOTE,
    "The archive holds objects that no release names.",
    "A release that was stopped leaves them; they do no harm, and the same release uses them when it is made again.",
    "planbook release curlew-box, stopped half way",
    "planbook release curlew-box",
)
PRINT_DIFFERS = Kind(
    "ARC07",
    "print-differs",
    _ERROR,
    "A release that was printed again did not come out as it was.",
    "With the same planbook and libraries it must; with others, the frozen files of the release are what counts.",
    "planbook archive verify --reprint with another planbook",
    "planbook archive verify --reprint with the planbook of the release",
)
NOT_AN_EXPORT = Kind(
    "ARC10",
    "not-an-export",
    _ERROR,
    "A file that is to be imported is not an export of a planbook archive, or is broken.",
    "Nothing of it is taken.",
    "planbook archive import photo.zip",
    "planbook archive import curlew-box.zip",
)
EXPORT_TOO_LARGE = Kind(
    "ARC11",
    "export-too-large",
    _ERROR,
    "An export holds more files, or unpacks to more bytes, than can be meant.",
    "A small file that unpacks without end fills the disk. Nothing of it is taken.",
    "an export of 200,000 files",
    "an export of the releases that are needed",
)
EXPORT_NAME_UNSAFE = Kind(
    "ARC12",
    "export-name-unsafe",
    _ERROR,
    "An export holds a file whose name leads elsewhere, is no plain file, or does not belong in an export.",
    "It was not written by planbook, and may be meant to do harm. Nothing of it is taken.",
    "../../.profile in an export",
    "objects/ab/cdef...",
)
EXPORT_DAMAGED = Kind(
    "ARC13",
    "export-damaged",
    _ERROR,
    "A file of an export does not have its checksum, or a release in it is not whole.",
    "It was changed on its way. Nothing of it is taken; ask for it again.",
    "an export with a byte changed",
    "an export as it was written",
)
EXPORT_CONFLICT = Kind(
    "ARC14",
    "export-conflict",
    _ERROR,
    "An export holds a release under a name that the archive has given to another one.",
    "A release is never changed, and two cannot have one name. Nothing of the export is taken.",
    "curlew-box@1.0 of somebody else, into an archive with curlew-box@1.0",
    "curlew-box@1.0 of somebody else, into an archive of its own",
)
LEFT_OFF_SHELF = Kind(
    "SHF01",
    "left-off-the-shelf",
    _WARNING,
    "A picture, a sample or the listing of a release is not what planbook writes, and is left out of the shelf.",
    "What is put on a shelf is opened by strangers, and a release may come from elsewhere: a picture must be a PNG "
    "picture of an ordinary size, and a PDF must hold nothing that acts by itself. Release the design anew.",
    "a release whose sample pages run a script when they are opened",
    "a release as `planbook release` writes it",
)

ALL: tuple[Kind, ...] = tuple(value for value in list(globals().values()) if isinstance(value, Kind))
