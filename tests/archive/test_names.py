"""Names of releases and files, and the order of versions."""

import pytest

from planbook.archive import ArchiveProblem, Ref, Version, design_name, read_ref, read_version, unsafe
from planbook.archive.names import is_design


def test_versions_are_in_the_order_of_their_numbers():
    texts = ["0.9", "1.0", "1.0.1", "1.0.10", "1.2", "1.10", "2.0"]
    numbers = [read_version(text) for text in texts]
    assert numbers == sorted(numbers)
    assert [str(number) for number in numbers] == texts
    assert read_version("1.0.0") == read_version("1.0") == Version(1, 0)


@pytest.mark.parametrize(
    "text", ["", "1", "1.", "1.0.0.0", "01.0", "1.00", "1.0b", "v1.0", "-1.0", "1,0", "1.0\n", "١.٠"]
)
def test_other_texts_are_no_versions(text):
    assert read_version(text) is None


def test_a_release_is_named_by_design_and_version():
    assert read_ref("curlew-box@1.0") == Ref("curlew-box", Version(1, 0))
    assert read_ref("curlew-box") == Ref("curlew-box")
    assert str(read_ref("curlew-box@1.2.3")) == "curlew-box@1.2.3"


@pytest.mark.parametrize(
    "text", ["", "@1.0", "box@", "box@1", "Box@1.0", "../box@1.0", "box/1@1.0", "con", "box@1.0@1"]
)
def test_other_names_are_refused(text):
    with pytest.raises(ArchiveProblem, match="not the name of a release"):
        read_ref(text)


def test_a_design_is_never_named_like_a_device():
    assert design_name("curlew-box") == "curlew-box"
    assert design_name("con") == "con-plan"
    assert is_design(design_name("lpt1"))


# Reserved names and signs: Microsoft, "Naming Files, Paths, and Namespaces".
DEVICES = ["CON", "prn.txt", "aux.svg", "NUL", "com1", "COM9.dxf", "lpt1.a.b", "conin$", "com¹.svg", "con .txt"]
SIGNS = [f"a{sign}b" for sign in '<>:"\\|?*\n\x00\x7f\u202e']
WAYS = ["", "/a", "../a", "a/../b", "a//b", "a/", "./a", "..", "C:/a", "\\\\host\\a"]
ENDS = ["a.", "a ", " a", ".hidden", "a./b", "x" * 121, "/".join("a" * 9), "é" * 70, "e\u0301.svg"]


@pytest.mark.parametrize("path", [*DEVICES, *SIGNS, *WAYS, *ENDS, "source/nul/x"])
def test_names_that_some_system_cannot_hold(path):
    assert unsafe(path)


@pytest.mark.parametrize(
    "path", ["design.toml", "source/tern-box/steps.md", "a/Möwe 1.svg", "console.svg", "com10.dxf"]
)
def test_names_that_every_system_can_hold(path):
    assert unsafe(path) == ""
