"""What the files of the sentence model must be; written when the model is taught (``grammars/teaching``)."""

SHA256 = {
    "net.onnx": "f602953556e6743ff6d295b9cefc3a42be0888d548d0c876ff160f15503852a5",
    "word-pieces.json": "74b3fda668ab1e11ebb1699c10d6c0df169bf7e15eea7e86e4091a8b4ba5c040",
}
#: What is learnt from the clauses with it: ``embed_meanings.py`` and ``fit_weights.py`` write it and its hash here.
LEARNT = {
    "exemplars.npz": "eb34bcda58ccab32b1444803662779d4b991536a8c0bb601ca6645ad27724534",
    "weights.json": "367ccd63e48c79bf4fd77c700ad1c5a6e5c540041460df27b23a06638d7a632e",
}
