using System.Collections.Immutable;
using static Outcomes.Synthetic.Export.Cells;
using static Outcomes.Synthetic.Export.LocalCodes;

namespace Outcomes.Synthetic.Export;

/// <summary>Columns of procedures that came after the others: what was foreseen and ready, times, and airborne precautions.</summary>
internal static class LaterColumns
{
    public static readonly ImmutableArray<LocalColumn<Procedure>> All =
    [
        new("Mallampati class", p => Mallampati[p.Foresight.Mallampati], 60),
        new("Sleep apnoea", p => YesNo(p.Foresight.SleepApnoea), 70),
        new("Neck movement limited", p => YesNo(p.Foresight.NeckLimited), 60),
        new("Mouth opening under 3 cm", p => YesNo(p.Foresight.SmallMouth), 60),
        new("Coma", p => YesNo(p.Foresight.Coma), 40),
        new("Severe hypoxaemia before", p => YesNo(p.Foresight.SevereHypoxaemia), 40),
        new("Operator not an anaesthetist", p => YesNo(p.Foresight.NonAnaesthetist), 20),
        new("Senior present", p => YesNo(p.Foresight.SeniorPresent), 50),
        new("Drugs ready", p => List(p.Foresight.DrugsReady, DrugsReady), 90),
        new("Decision (s)", p => Number(p.Timing.Decision), 120),
        new("First laryngoscopy (s)", p => Or(p.Timing.FirstBlade), 100),
        new("Emergency declared (s)", p => Or(p.Timing.CicoDeclared)),
        new("Front of neck (s)", p => Or(p.Timing.FrontOfNeck)),
        new("Airway confirmed (s)", p => Or(p.Timing.Confirmed), 110),
        new("Staff in room", p => Number(p.Precautions.StaffInRoom), 80),
        new("Protective equipment checked", p => Or(p.Precautions.BuddyCheck), 80),
        new("Protective equipment breach", p => Or(p.Precautions.Breach), 60),
        new("Stage of the breach", p => p.Precautions.BreachStage is { } stage ? BreachStage[stage] : NotApplicable),
        Asked("Check outside the room", sequence => Check[sequence.CheckOutside]),
        Asked("Check at the bedside", sequence => Check[sequence.CheckInside]),
        Asked("Circuit order checked", sequence => YesNo(sequence.CircuitInOrder)),
        Asked("Filter before first breath", sequence => YesNo(sequence.FilterFirst)),
        Asked("Gas off when open", sequence => YesNo(sequence.GasOff)),
        Asked("Cuff up before first breath", sequence => YesNo(sequence.CuffFirst)),
        Asked("Clamp and pause", sequence => Clamped[sequence.Clamped]),
        Asked("Mask ventilation after relaxant", sequence => YesNo(sequence.MaskAfterRelaxant)),
        // No reason given is a blank cell by itself: nothing more is left out.
        Asked("Reason for mask ventilation", sequence =>
            sequence.MaskAfterRelaxant ? sequence.MaskReason is { } reason ? MaskReason[reason] : "" : NotApplicable, missing: 0),
        Asked("Doffing observed", sequence => YesNo(sequence.DoffingObserved)),
    ];

    private static LocalColumn<Procedure> Asked(string heading, Func<AirborneSequence, string> text, int missing = 70) => new(heading,
        p => p.Patient.Infection == "not_suspected" ? NotApplicable : p.Precautions.Sequence is { } sequence ? text(sequence) : NotAsked,
        missing);

    private static string Or(int? value) => value is { } number ? Number(number) : NotApplicable;

    private static string Or(bool? value) => value is { } answer ? YesNo(answer) : NotApplicable;
}
