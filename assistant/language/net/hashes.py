"""What the files of the sentence model must be; written when the model is taught (``grammars/teaching``)."""

SHA256 = {
    "net.onnx": "d4cf69fe7e3a75450368188bfcdd9b96f30c4f794a82c450414486bd1c3636aa",
    "word-pieces.json": "e0a2d4f41391c8e7dce13162ee075f03090e4d42189cf9b88986bb22fdd7cd6b",
}
