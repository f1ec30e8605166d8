"""What the files of the sentence model must be; written when the model is taught (``grammars/teaching``)."""

SHA256 = {
    "net.onnx": "f602953556e6743ff6d295b9cefc3a42be0888d548d0c876ff160f15503852a5",
    "word-pieces.json": "74b3fda668ab1e11ebb1699c10d6c0df169bf7e15eea7e86e4091a8b4ba5c040",
}
