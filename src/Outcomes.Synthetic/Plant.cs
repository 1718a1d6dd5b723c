using System.Collections.Immutable;

namespace Outcomes.Synthetic;

/// <summary>What is planted on purpose in a procedure, in its row, or beside it.</summary>
public enum Plant
{
    /// <summary>An oesophageal intubation recognised after three minutes.</summary>
    DelayedOesophageal,

    /// <summary>Plan A failed, plan B oxygenated, then plan A succeeded.</summary>
    ReturnedToPlanA,

    /// <summary>Plans A, B and C failed; front-of-neck airway.</summary>
    FrontOfNeck,

    /// <summary>A saturation with a nought too many.</summary>
    SaturationTenfold,

    /// <summary>A saturation typed with its percent sign.</summary>
    SaturationWithPercent,

    /// <summary>A word in a column of numbers.</summary>
    TextInNumber,

    /// <summary>A code that is on no list.</summary>
    UnknownCode,

    /// <summary>A weight with a decimal comma.</summary>
    DecimalComma,

    /// <summary>The thirtieth of February: the row has no date, so it cannot be counted.</summary>
    ImpossibleDate,

    /// <summary>A date sixty years on, which no number of months reaches.</summary>
    FutureDate,

    /// <summary>A lowest saturation above the one before induction.</summary>
    SaturationRose,

    /// <summary>The final plan is one that was never used.</summary>
    PlanContradiction,

    /// <summary>Sustained CO2 without any CO2 detection.</summary>
    Co2Contradiction,

    /// <summary>The total of attempts is two more than there are attempt rows.</summary>
    AttemptsDisagree,

    /// <summary>The same row twice.</summary>
    ExactDuplicate,

    /// <summary>First exported with a lowest saturation that was no fall at all; the true one follows at the end of the file.</summary>
    LateCorrection,

    /// <summary>An attempt row whose record is not there.</summary>
    OrphanAttempt,
}

/// <summary>Where each plant stands: one of each a round of the department's own volume.</summary>
internal static class Planting
{
    /// <summary>Month, counted from 0, and place within the month's round, below 10.</summary>
    private static readonly ImmutableArray<(Plant Plant, int Month, int Position)> Places =
    [
        (Plant.ExactDuplicate, 3, 3), (Plant.SaturationTenfold, 5, 1), (Plant.ImpossibleDate, 7, 6), (Plant.SaturationWithPercent, 9, 3),
        (Plant.SaturationRose, 10, 2), (Plant.TextInNumber, 11, 5), (Plant.LateCorrection, 12, 1), (Plant.UnknownCode, 13, 7),
        (Plant.ReturnedToPlanA, 14, 2), (Plant.PlanContradiction, 17, 4), (Plant.DecimalComma, 18, 2), (Plant.ExactDuplicate, 20, 5),
        (Plant.OrphanAttempt, 22, 7), (Plant.FutureDate, 24, 8), (Plant.Co2Contradiction, 25, 5), (Plant.DelayedOesophageal, 27, 4),
        (Plant.AttemptsDisagree, 29, 1), (Plant.FrontOfNeck, 31, 6), (Plant.LateCorrection, 33, 2),
    ];

    /// <summary>The places come again every three years, whatever number of months is asked for.</summary>
    private const int Cycle = 36;

    /// <summary>What is planted in procedure <paramref name="number"/> of a month; a later round moves on by seven months.</summary>
    public static Plant? At(int month, int ownVolume, int number)
    {
        var (round, position) = Math.DivRem(number, ownVolume);
        foreach (var place in Places)
            if (place.Position == position && (place.Month + (7L * round)) % Cycle == month % Cycle)
                return place.Plant;
        return null;
    }
}
