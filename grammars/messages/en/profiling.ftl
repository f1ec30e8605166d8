# The questions of the interview that makes a unit profile, and what is said about their answers.
profile-make = What make is it?
profile-model = What model?
profile-said = How will you say it on a visit? Skip for make and model.
profile-source = Which manual are you reading?
profile-supply = What supply, two thirty, two forty, two oh eight, four hundred or one fifteen?
profile-hertz = Fifty or sixty hertz?
profile-running-current = Running current in amps?
profile-breaker = Breaker size in amps?
profile-refrigerant = Which refrigerant?
profile-charge = Factory charge in kilograms?
profile-free-length = Pipe length that needs no added charge, in meters?
profile-added = Charge to add for pipes beyond that, in grams or ounces?
profile-added-per = For each meter, or each foot?
profile-longest = Longest pipe allowed, in meters?
profile-highest = Greatest height between the units, in meters?
profile-zones = How many indoor units can it have?
profile-zone = What will you call zone { $number }? Skip for its number.
profile-parts = Name the parts it has, such as heat pump, display, remote, float switch, DC fans, valves.
profile-curve = Room and pipe sensors: five, ten, fifteen, twenty or fifty k at 25 °C?
profile-hot-curve = And the discharge sensor?
profile-enough = That is enough to work with. More of the manual now, or later?
profile-has-heat-pump = Does it heat as well as cool?
profile-has-auto-mode = Does it have an automatic mode?
profile-has-display = Does the indoor unit have a display?
profile-has-remote-control = Does it have a remote control?
profile-has-network-adapter = Does it have a network adapter?
profile-has-float-switch = Does it have a float switch?
profile-has-condensate-pump = Does it have a condensate pump?
profile-has-drain-trap = Does its drain have a trap?
profile-has-dc-indoor-fan = Is the indoor fan motor a DC motor with its electronics inside?
profile-has-dc-outdoor-fan = Is the outdoor fan motor a DC motor with its electronics inside?
profile-has-outdoor-lamps = Does the outdoor board have lamps?
profile-has-reactor = Does it have a reactor?
profile-has-soft-start-relay = Does it have a soft-start relay?
profile-has-top-overload = Does the compressor have an overload on its top?
profile-has-crankcase-heater = Does it have a crankcase heater?
profile-has-base-heater = Does its base have a heater?
profile-has-expansion-valve = Does it have an electronic expansion valve?
profile-has-service-valves = Does it have service valves?
profile-module = Is the power module on its own board, or on the main board?
profile-sensor = { $sensor ->
    [room] Room
    [pipe] Pipe
    [outdoor] Outdoor
    [discharge] Discharge
   *[suction] Suction
  } sensor: kilohms at { $point } °C?
profile-winding = Compressor: ohms between two terminals at 20 °C?
profile-imbalance = By how many percent may the windings differ?
profile-insulation = Least insulation to the shell, in megohms?
profile-fan = { $fan ->
    [indoor] Indoor
   *[outdoor] Outdoor
  } fan motor: { $what ->
    [supply] supply in volts DC
    [control] its control supply in volts DC
    [command_low] command at lowest speed in volts DC
    [command_high] command at highest speed in volts DC
    [pulses] pulses for each turn
    [rpm_low] lowest speed in turns a minute
   *[rpm_high] highest speed in turns a minute
  }?
profile-bus-uf = Bus capacitors together, in microfarads?
profile-bleed = Their bleed resistor in kilohms?
profile-signal-low = Signal line: its lower voltage in volts DC?
profile-signal-high = And its higher voltage?
profile-signal-one = First terminal of the signal pair?
profile-signal-two = Its second terminal?
profile-eev = Expansion valve: ohms of one coil?
profile-reversing = Reversing valve: ohms of its coil?
profile-switch-opens = The { $side ->
    [high] high
   *[low] low
  } pressure switch opens at how many kilopascals?
profile-switch-closes = And closes again at?
profile-shown = What can it show, in the words you will say? Skip when there are no more.
profile-means = What does the manual say it means?
profile-symptom = Which symptom is that, in plain words?

profile-confirm-topic = Yes or no.
profile-all-asked = All questions are answered.
profile-not-heard = I did not get that.
profile-outside = { $value } is outside { $low } to { $high }.
profile-heard-right = I heard { $value }, right?
profile-yes-or-no = { $value }, yes or no?
profile-going-back = Going back.
profile-skipped = Skipped.
profile-needed = This one is needed.
profile-help-needed = “Go back” takes the last answer back.
profile-help-open = “Skip” leaves it out; “go back” takes the last answer back.
profile-help-choices = You can say: { $ways }.
