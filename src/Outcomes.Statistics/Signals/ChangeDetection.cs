using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>How soon a change would be noticed.</summary>
/// <param name="Noticed">Chance of a signal within 1, 2, 3 … reports, the first report after the change being 1.</param>
/// <param name="Replicates">Futures simulated.</param>
public sealed record ChangeDetection(ImmutableArray<double> Noticed, int Replicates)
{
    /// <summary>The chance of a signal within so many reports, 1 to the length of <see cref="Noticed"/>.</summary>
    public double Within(int reports) => Noticed[reports - 1];

    /// <summary>
    /// The reports after which this share of futures have a signal; null when not within those simulated. The median for 0.5.
    /// </summary>
    public int? MonthsTo(double share = 0.5)
    {
        var index = Noticed.ToList().FindIndex(chance => chance >= share);
        return index < 0 ? null : index + 1;
    }

    /// <summary>Standard error of the chance within so many reports, from the number of futures.</summary>
    public double Error(int reports) => Math.Sqrt(Within(reports) * (1 - Within(reports)) / Replicates);
}
