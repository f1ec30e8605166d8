# What is said beside the visit: when something fails in the middle of it, or when it takes a moment.
cannot-write = I cannot write anything down. The disk may be full.
cannot-hear = I cannot hear you. The microphone is gone.
cannot-speak = I could not speak. The loudspeaker was gone.
cannot-keep-sound = The sound of what you say cannot be kept. Your answers are.
went-wrong = Something went wrong in me.
still-deaf = I still cannot hear you. Look at the microphone.
speak-again = I can speak again.
battery-low = The battery of this computer is low. Everything so far is kept.
hearing-lost = I lost my hearing for a moment. Say it again, please.
trouble-held = The visit is held. Say carry on to try again.
one-moment = One moment.
called = Yes?
sound-clipped = You are too close to the microphone, or it is set too loud.
sound-noisy = It is too loud here. Come closer to the microphone.
sound-too-quiet = I can hardly hear you. Come closer or speak up.
line-too-long = that is too long for me, say it in fewer words
