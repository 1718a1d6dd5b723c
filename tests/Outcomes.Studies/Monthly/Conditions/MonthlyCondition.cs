using System.Collections.Immutable;

namespace Outcomes.Studies.Monthly;

/// <summary>In what a department differs from those of the main study, though its rates are as there.</summary>
/// <param name="Name">As the tables say it.</param>
/// <param name="Missing">The chance that an outcome is not recorded, whatever it was; such a case is not eligible.</param>
/// <param name="Factor">What the volume is multiplied by from report 19 on.</param>
internal sealed record MonthlyCondition(string Name, double Missing, double Factor)
{
    /// <summary>The first report with another volume, 0-based: month 18 is the last with the old one.</summary>
    public const int From = 18;

    public static ImmutableArray<MonthlyCondition> All { get; } =
    [
        new("10 % missing at random", 0.1, 1), new("volume doubled after month 18", 0, 2), new("volume halved after month 18", 0, 0.5),
    ];
}

/// <summary>What the six measures of a department have in common.</summary>
/// <param name="Name">As the tables say it.</param>
/// <param name="Correlation">Intraclass correlation of the cases of a month.</param>
/// <param name="SameCases">
/// Whether the same patients have the events: the chance of an event is the same for every measure, and the rarer ones happen only where
/// the more frequent ones do. Else events of one month are independent given its rates.
/// </param>
internal sealed record Togetherness(string Name, double Correlation, bool SameCases)
{
    /// <summary>A good or bad month is as good or bad for all six: their rates stand at one quantile of their distributions.</summary>
    public static ImmutableArray<Togetherness> All { get; } =
    [
        new("same months", 0.01, SameCases: false), new("same months", 0.02, SameCases: false), new("same patients", 0, SameCases: true),
        new("same months and patients", 0.02, SameCases: true),
    ];
}
