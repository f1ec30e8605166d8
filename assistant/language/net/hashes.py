"""What the files of the sentence model must be; written when the model is taught (``grammars/teaching``)."""

SHA256 = {
    "net.onnx": "3f07f2b29f19cdc78680c1717454e906d74e0711ab7ae4d331a83bbbe0415614",
    "word-pieces.json": "74b3fda668ab1e11ebb1699c10d6c0df169bf7e15eea7e86e4091a8b4ba5c040",
}
#: What is learnt from the clauses with it: ``embed_meanings.py`` and ``fit_weights.py`` write it and its hash here.
LEARNT = {
    "exemplars.npz": "f57d680384aeae1aaa271378f7568892a5e1c387a5a34bcf12fd3c9f35f46a90",
    "weights.json": "367ccd63e48c79bf4fd77c700ad1c5a6e5c540041460df27b23a06638d7a632e",
}
