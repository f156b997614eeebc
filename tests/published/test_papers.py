"""The canonical form and the signature against the examples of their standards."""

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from ohmsworth.adapters.papers.keys import FileSigner, fits
from ohmsworth.errors import ArgumentFault
from ohmsworth.work.papers.canonical import canonical

#: Source: RFC 8032, 7.1, tests 1 to 3: private key, public key, message, signature.
SIGNATURES = [
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        (
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
            "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"
        ),
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        (
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
            "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
        ),
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        (
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
            "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"
        ),
    ),
]


def test_keys_are_sorted_as_published() -> None:
    """Source: RFC 8785, 3.2.3: the example whose keys sort by UTF-16 code units, an emoji before U+FB33."""
    data = {
        "\u20ac": "Euro Sign",
        "\r": "Carriage Return",
        "\ufb33": "Hebrew Letter Dalet With Dagesh",
        "1": "One",
        "\U0001f600": "Emoji: Grinning Face",
        "\u0080": "Control",
        "\u00f6": "Latin Small Letter O With Diaeresis",
    }
    assert canonical(data).decode() == (
        '{"\\r":"Carriage Return","1":"One","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis",'
        '"\u20ac":"Euro Sign","\U0001f600":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}'
    )


def test_a_text_is_written_as_published() -> None:
    """Source: RFC 8785, 3.2.2 and 3.2.4: the text of the example, and its bytes in UTF-8."""
    written = canonical({"string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/"})
    assert written.hex() == "7b22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d"


def test_control_characters_are_escaped_as_published() -> None:
    """Source: RFC 8785, 3.2.2.2: two-character escapes where there are any, else four lower-case digits; DEL as it is."""
    assert canonical("\b\t\n\f\r\x00\x1f\x7f").decode() == '"\\b\\t\\n\\f\\r\\u0000\\u001f\x7f"'


@pytest.mark.parametrize("data", [1, 1.0, None, True, {"a": 1}, ["a", None], "\ud800"])
def test_what_has_no_one_form_here_is_refused(data: object) -> None:
    with pytest.raises(ArgumentFault):
        canonical(data)


@pytest.mark.parametrize(("private", "public", "message", "signature"), SIGNATURES)
def test_signatures_are_those_published(private: str, public: str, message: str, signature: str) -> None:
    """Source: RFC 8032, 7.1."""
    signer = FileSigner(Ed25519PrivateKey.from_private_bytes(bytes.fromhex(private)))
    text = bytes.fromhex(message)
    assert signer.public_key.hex() == public
    assert signer.sign(text).hex() == signature
    assert fits(bytes.fromhex(public), text, bytes.fromhex(signature))
    assert not fits(bytes.fromhex(public), text + b"x", bytes.fromhex(signature))
    assert not fits(bytes.fromhex(SIGNATURES[0][1])[::-1], text, bytes.fromhex(signature))
