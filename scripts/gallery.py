#!/usr/bin/env python3
"""Makes samples/gallery/: one picture of each kind of page and each way of printing it.

A row names the picture, the plan, how it is printed, and words of its page, best those that it begins with. A page
that is not found is an error: so the gallery cannot show what is no longer printed. Pictures have a palette of 64
colours, which is as many as a page and its soft edges need.
"""
import pathlib
import shutil
import struct
import subprocess
import sys
import tempfile
import zlib

DPI = 80
FOLDER = pathlib.Path("samples/gallery")
MARA, MARA_2, IONE, TAMSIN, TILDA, PERPETUA, ODILE, PALOMA, WILMA, DRAFT = (
    f"samples/plans/{name}.yaml"
    for name in ("mara", "mara-2", "ione", "tamsin", "tilda", "perpetua", "odile", "paloma", "wilma",
                 "rosalind-draft"))
STRESS = "tests/stress/plans/everything.yaml"
LARGE, LETTER, MONO = "--large-print", "--paper letter", "--mono"

BAND = "DRAFT · not yet checked · do not use "

PAGES = [
    # name, plan, options, words on the page, which of the pages with these words (from 0)
    ("overview", MARA, "", "Your injection plan", 0),
    ("overview-draft", DRAFT, "", "Your injection plan", 0),
    ("overview-new-version", MARA_2, "", "Your injection plan", 0),
    ("overview-twelve-medicines", STRESS, "", "Your injection plan", 0),
    ("overview-spanish", PALOMA, "", "Su plan de inyecciones", 0),
    ("overview-large", MARA, LARGE, "Your injection plan", 0),
    ("grid", MARA, "", "Day by day", 0),
    ("grid-mono", MARA, MONO, "Day by day", 0),
    ("grid-letter", MARA, LETTER, "Day by day", 0),
    ("grid-draft", DRAFT, "", "Day by day", 0),
    ("grid-call", IONE, "", "Day by day", 0),
    ("grid-large", MARA, LARGE, "Day by day", 2),
    ("grid-mornings", STRESS, "", "Mornings", 0),
    ("grid-evenings-mono", STRESS, MONO, "Noon and evenings", 0),
    ("powder-prepare", MARA, "", "Examplin 125 mcg: get ready", 0),
    ("powder-draw", MARA, "", "Examplin 125 mcg: draw and inject", 0),
    ("powder-draw-large", MARA, LARGE, "Same spot, 6 times bigger", 0),
    ("powder-steps-large", MARA, LARGE, "Push air out", 0),
    ("split-vial", MARA, "", "Examplin: one vial, two days", 0),
    ("split-vial-large", MARA, LARGE, "In between", 0),
    ("insulin-syringe", MARA, "", "Sampletide: draw and inject", 0),
    ("filled-syringe-whole", MARA, "", "Mockuline: inject", 0),
    ("filled-syringe-part", TAMSIN, "", "Pretendol: push out first", 0),
    ("measured-liquid", IONE, "", "Vacuprine 150 units: get ready", 0),
    ("several-powders", WILMA, "", "Folliplan 225 units: 3 powders", 0),
    ("several-powders-large", WILMA, LARGE, "One liquid goes through them all", 0),
    ("add-line", WILMA, "", "Fabriline: mix it", 0),
    ("add-line-mono", WILMA, MONO, "Fabriline: mix it", 0),
    ("vial-of-many-days", WILMA, "", "Fabriline: draw and inject", 0),
    ("stop-on-the-way", WILMA, "", "Dummirex: stop on the way", 0),
    ("muscle", TAMSIN, "", "Oleumine: into the muscle", 0),
    ("pen-prepare", TILDA, "", "Placebix: get ready", 0),
    ("pen-set", TILDA, "", "Placebix: set and inject", 0),
    ("pen-set-large", TILDA, LARGE, "Placebix: set and inject", 0),
    ("two-pens", TILDA, "", "Placebix: two pens today", 0),
    ("spray", TILDA, "", "Whiffaline: how to spray", 0),
    ("half-tablet", TILDA, "", "Nonsensol: how to take it", 0),
    ("patches", PERPETUA, "", "Stickatine: how to stick it on", 0),
    ("patches-large", PERPETUA, LARGE, "When to change", 0),
    ("exact-time", ODILE, "", "Fictivane: exact time", 0),
    ("exact-time-mono", ODILE, MONO, "Fictivane: exact time", 0),
    ("exact-time-large", ODILE, LARGE, "Fictivane: exact time", 0),
    ("waiting-for-call", ODILE, "", "Placebix: wait for our call", 0),
    ("waiting-for-call-large", ODILE, LARGE, "Placebix: wait for our call", 0),
    ("may-become", ODILE, "", "Vacuprine: which line?", 0),
    ("may-become-large", ODILE, LARGE, "Vacuprine: which line?", 0),
    ("change-notice", MARA_2, "", "Your plan has changed", 0),
    ("supplies", MARA, "", "Your supplies", 0),
    ("supplies-large", MARA, LARGE, "Your supplies", 0),
    ("before", MARA, "", "Before you start", 0),
    ("before-large", MARA, LARGE, "Is this printed in true size?", 0),
    ("notes", WILMA, "", "what, and who said it", 0),
    ("check-page", MARA, "", "Check page", 0),
    ("teach-back", MARA, "", "the nurse watches", 0),
]


def packet(folder, made, plan, options):
    """The packet of a plan in one way of printing, made once; and the text of each of its pages."""
    key = plan + options
    if key not in made:
        path = folder / f"{len(made)}.pdf"
        subprocess.run([program, "replace", plan, "--quiet", "-o", path, *options.split()], check=True,
                       stderr=subprocess.DEVNULL)
        text = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, text=True).stdout
        made[key] = path, [" ".join(page.split()) for page in text.split("\f")[:-1]]
    return made[key]


def pixels(path, page):
    """The page as width, height and rows of red, green, blue."""
    data = subprocess.run(["pdftoppm", "-r", str(DPI), "-f", str(page), "-l", str(page), path], check=True,
                          capture_output=True).stdout
    head, size, most, rest = data.split(b"\n", 3)
    width, height = map(int, size.split())
    return width, height, rest


# 32 greys, and towards white from each colour of the sheet, as soft edges are.
HUES = [(0x17, 0x5C, 0x8E), (0xE2, 0xEE, 0xF7), (0x9A, 0x3B, 0x00), (0xF1, 0xF1, 0xEF)]
PALETTE = [(g, g, g) for g in (round(i * 255 / 31) for i in range(32))]
for hue in HUES:
    PALETTE += [tuple(round(c + (255 - c) * i / 8) for c in hue) for i in range(8)]
nearest = {}


def index_of(colour):
    if colour not in nearest:
        nearest[colour] = min(range(len(PALETTE)),
                              key=lambda i: sum((a - b) ** 2 for a, b in zip(PALETTE[i], colour)))
    return nearest[colour]


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def write_png(path, width, height, rest):
    rows = bytearray()
    for y in range(height):
        line = rest[3 * width * y:3 * width * (y + 1)]
        rows.append(0)
        rows += bytes(index_of((line[i], line[i + 1], line[i + 2])) for i in range(0, 3 * width, 3))
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0)) +
                     chunk(b"PLTE", bytes(c for colour in PALETTE for c in colour)) +
                     chunk(b"IDAT", zlib.compress(bytes(rows), 9)) + chunk(b"IEND", b""))


# All pictures or none: the folder changes once the last one is made.
program = sys.argv[1]
with tempfile.TemporaryDirectory() as scratch:
    made = {}
    for name, plan, options, words, which in PAGES:
        path, texts = packet(pathlib.Path(scratch), made, plan, options)
        found = ([i for i, text in enumerate(texts) if text.removeprefix(BAND).startswith(words)] or
                 [i for i, text in enumerate(texts) if words in text])
        if len(found) <= which:
            sys.exit(f"gallery: no page says '{words}' in {plan} {options}")
        write_png(pathlib.Path(scratch) / f"{name}.png", *pixels(path, found[which] + 1))
    FOLDER.mkdir(exist_ok=True)
    for old in FOLDER.glob("*.png"):
        old.unlink()
    for picture in pathlib.Path(scratch).glob("*.png"):
        shutil.copyfile(picture, FOLDER / picture.name)
size = sum(path.stat().st_size for path in FOLDER.glob("*.png"))
print(f"{FOLDER}: {len(PAGES)} pictures, {size // 1024} KB")
