import logging
import os

from assistant.data.places import user_folder

# The library that draws keeps a list of fonts: with our own data, not in the user's home.
os.environ.setdefault("MPLCONFIGDIR", str(user_folder() / "cache" / "drawing"))
# Where that cannot be written it takes a folder for the moment, and need not tell.
logging.getLogger("matplotlib").setLevel(logging.ERROR)
