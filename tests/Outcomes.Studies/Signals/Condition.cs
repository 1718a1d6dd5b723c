using System.Collections.Immutable;

namespace Outcomes.Studies.Signals;

/// <summary>How the months of a stable or changed department come about.</summary>
/// <param name="Name">As the columns of the tables say it.</param>
/// <param name="Correlation">Intraclass correlation of cases within a month: months vary by themselves.</param>
/// <param name="Season">The rate swings over the year with a random phase, by <see cref="Swing"/>.</param>
/// <param name="Unrecorded">Share of cases lost at random.</param>
/// <param name="Growth">Volume in the last month over volume in the first.</param>
/// <param name="Empty">Months in a row without cases, somewhere among the reports.</param>
/// <param name="BadLost">Share of bad events whose case goes unrecorded from the thirteenth report on.</param>
internal sealed record Condition(
    string Name, double Correlation = 0, bool Season = false, double Unrecorded = 0, double Growth = 1, int Empty = 0, double BadLost = 0)
{
    public static Condition Plain { get; } = new("alike");

    /// <summary>The ten conditions of the false-alarm table.</summary>
    public static ImmutableArray<Condition> All { get; } =
    [
        Plain, new("ρ .01", 0.01), new("ρ .02", 0.02), new("ρ .05", 0.05), new("season", Season: true),
        new("10 % missing", Unrecorded: 0.1), new("volume ×2", Growth: 2), new("volume ÷2", Growth: 0.5), new("6 empty months", Empty: 6),
        new("bad events lost", BadLost: 0.2),
    ];

    /// <summary>Half the height of the season's swing at a bad rate.</summary>
    public static double Swing(double rate) => rate >= 0.15 ? 0.05 : rate >= 0.08 ? 0.025 : 0.015;
}
