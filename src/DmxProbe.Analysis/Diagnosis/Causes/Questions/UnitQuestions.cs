namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: unit. Common practice, no source.</summary>
internal static class UnitQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("sound-or-programme-mode", CauseGroup.UnitState, "sound, automatic or master mode")
        {
            Needs = [CauseInputs.Person],
            Test = "It moves while its slots stand still.",
            Fix = "Set it to follow DMX512.",
            Check = new NextCheck("Hold its slots still for ten seconds and look whether it goes on.", 15),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("unit-set-to-master", CauseGroup.UnitState, "a unit set to master drives the line")
        {
            Needs = [CauseInputs.Person],
            Test = "Everything on the line goes mad when that one is plugged in.",
            Fix = "Set it to follow DMX512.",
            Check = new NextCheck("Read the master or slave setting off its display.", 60, Ladder: true),
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("wrong-input-selected", CauseGroup.UnitState, "another input selected (wire, radio, network)")
        {
            Needs = [CauseInputs.Person],
            Test = "Its line is good at the connector and its signal light is off.",
            Fix = "Select the input that is used.",
            Check = new NextCheck("Look at its signal light.", 30, Ladder: true),
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("hold-last-look", CauseGroup.UnitState, "it holds its last look without data")
        {
            Needs = [CauseInputs.Person],
            Test = "It stands at what it was told before the data stopped.",
            Fix = "Bring the data back; set what it should do without.",
            Check = new NextCheck("Change its level: does anything follow?", 15),
            Cautions = [Caution.Raising, Caution.Returning],
            Frequency = CauseFrequency.Common,
        }),
        new PersonCause(new CauseCard("black-without-data", CauseGroup.UnitState, "it goes dark at short gaps")
        {
            Needs = [CauseInputs.Person],
            Test = "It blinks dark for a moment; others do not.",
            Fix = "Keep the frames continuous, or set a longer hold.",
            Check = new NextCheck("See whether another make on the same line blinks too.", 60),
        }),
        new PersonCause(new CauseCard("points-away", CauseGroup.UnitState, "it points away, or its movement is locked")
        {
            Needs = [CauseInputs.Person],
            Test = "It is lit, and not where it should be.",
            Fix = "Focus it; take the lock off.",
            Check = new NextCheck("Look where its light goes.", 20),
            Cautions = [Caution.Ladder],
        }),
        new PersonCause(new CauseCard("thermal-fold-back", CauseGroup.UnitState, "it turns itself down: heat, lamp or emitter old")
        {
            Needs = [CauseInputs.Person],
            Test = "It gets weaker over minutes at the same levels.",
            Fix = "Service it.",
            Check = new NextCheck("Compare it with its neighbours after ten minutes.", 600),
            Cautions = [Caution.Ladder],
        }),
        new PersonCause(new CauseCard("unit-in-error", CauseGroup.UnitState, "the unit reports an error")
        {
            Needs = [CauseInputs.Person],
            Test = "Its display shows an error; homing failed.",
            Fix = "Reset or service it.",
            Check = new NextCheck("Read its display.", 60, Ladder: true),
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("white-balance-differs", CauseGroup.UnitState, "white balance or colour calibration differs")
        {
            Needs = [CauseInputs.Person],
            Test = "One of equal units is warmer or greener.",
            Fix = "Set all of them alike.",
            Check = new NextCheck("Compare their settings.", 120, Ladder: true),
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("mode-switch-set", CauseGroup.Mode, "a switch for mode or sound is on")
        {
            Needs = [CauseInputs.Person],
            Test = "A switch beyond those of the address is on (the tenth, often): it chooses the mode, or sound.",
            Fix = "Switch it off, by the unit's manual.",
            Check = new NextCheck("Read the switches off the unit, all of them.", 60, Ladder: true),
            Cautions = [Caution.Setting, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("cells-in-other-order", CauseGroup.Addressing, "cells of a unit patched in another order")
        {
            Needs = [CauseInputs.Person],
            Test = "The picture runs the wrong way, or in pieces.",
            Fix = "Patch the cells in the order of the chart.",
            Check = new NextCheck("Raise the cells one after the other at the controller.", 60),
            Cautions = [Caution.Raising],
        }),
        new PersonCause(new CauseCard("receiver-shifts-slots", CauseGroup.UnitState, "the receiver shifts every slot by one for a moment")
        {
            Needs = [CauseInputs.Person],
            Test = "Everything on it jumps one function further for a blink.",
            Fix = "Its software drops or repeats a slot: a newer one, or another receiver.",
            Check = new NextCheck("Look whether a second receiver on the same line does it too.", 60),
            Cautions = [Caution.Unplugging],
            Frequency = CauseFrequency.Rare,
        }),
        new PersonCause(new CauseCard("receiver-misreads", CauseGroup.UnitState, "the receiver misses breaks")
        {
            Needs = [CauseInputs.Person],
            Test = "One slot reads a little more or less at random while its level stands.",
            Fix = "Try another receiver; a longer break at the sender may help.",
            Check = new NextCheck("Hold one level still and read it at the unit.", 60),
            Cautions = [Caution.Unplugging],
            Frequency = CauseFrequency.Rare,
        }),
        new PersonCause(new CauseCard("receiver-busy", CauseGroup.UnitState, "the receiver is busy with something else")
        {
            Needs = [CauseInputs.Person],
            Test = "It blinks while it saves, shows something or hears a network.",
            Fix = "A newer software, or less to do for it.",
            Check = new NextCheck("Ask what it does besides at that moment.", 30),
            Frequency = CauseFrequency.Rare,
        }),
    ];
}
