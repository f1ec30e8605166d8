"""What the files of the sentence model must be; written when the model is taught (``grammars/teaching``)."""

SHA256 = {
    "net.onnx": "0d52e7a0bf50400d72f792a8fa49dc62c9f72361e976798bcb3f3dbedc8d547c",
    "word-pieces.json": "74b3fda668ab1e11ebb1699c10d6c0df169bf7e15eea7e86e4091a8b4ba5c040",
}
#: What is learnt from the clauses with it: ``embed_meanings.py`` and ``fit_weights.py`` write it and its hash here.
LEARNT = {
    "exemplars.npz": "574ce0e790333b84f76963c4278d33675f9ad2a772835865a9f3ba94fdd0298d",
    "weights.json": "367ccd63e48c79bf4fd77c700ad1c5a6e5c540041460df27b23a06638d7a632e",
}
