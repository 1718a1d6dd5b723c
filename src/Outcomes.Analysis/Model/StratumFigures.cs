using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>One level of a stratum with its count and interval; no estimate when nothing was eligible.</summary>
public sealed record LevelFigures(string Level, Count Count, Estimate? Estimate)
{
    /// <summary>The reading of those that say, where what is not recorded counts as not done; otherwise null.</summary>
    public Count? Known { get; init; }

    /// <summary>Its estimate; null where this level has none, or no answer is known.</summary>
    public Estimate? KnownEstimate { get; init; }

    /// <summary>How many levels <see cref="StratumFigures.Other"/> holds; nought for a level of its own.</summary>
    public int Merged { get; init; }
}

/// <summary>One measure split by one field, over 12 months.</summary>
public sealed record StratumFigures(string Field, ImmutableArray<LevelFigures> Levels)
{
    /// <summary>Levels with fewer records than this are merged: a figure from four records says more about them than about care.</summary>
    public const int LeastRecords = 5;

    /// <summary>The name of the merged levels.</summary>
    public const string Other = "(other)";

    /// <summary>
    /// Levels as given, those with fewer than <see cref="LeastRecords"/> records (eligible or missing) merged into
    /// <see cref="Other"/>, which has no estimate while it stays below that itself. Records whose stratum is missing come last and
    /// are merged too when they are few.
    /// </summary>
    /// <param name="field">The stratum's field.</param>
    /// <param name="levels">Level and count, in display order.</param>
    /// <param name="estimate">The interval of a count with eligible records, and of which levels it is: one, or those merged.</param>
    public static StratumFigures Of(
        string field, IEnumerable<(string Level, Count Count)> levels, Func<Count, IReadOnlyList<string>, Estimate?> estimate)
    {
        var given = levels.Where(level => !level.Count.IsEmpty).ToList();
        var few = given.Where(level => Records(level.Count) < LeastRecords).ToList();
        var kept = given.Except(few).OrderBy(level => level.Level == CountRow.MissingLevel).ToList();
        if (few.Count > 0)
            kept.Add((Other, few.Aggregate(default(Count), (sum, level) => sum + level.Count)));
        return new(field,
            [.. kept.Select(level => new LevelFigures(level.Level, level.Count,
                Records(level.Count) < LeastRecords || level.Count.Eligible == 0 ? null
                    : estimate(level.Count, level.Level == Other ? [.. few.Select(each => each.Level)] : [level.Level]))
            {
                Merged = level.Level == Other ? few.Count : 0,
            })]);
    }

    /// <summary>
    /// Whether a measure may be split by a field: judged by the fields that its condition names. Who held the laryngoscope is never set
    /// beside death, arrest or front-of-neck access: there the numbers are so small that a split points at a person.
    /// </summary>
    public static bool Allowed(Measure measure, string field)
    {
        ArgumentNullException.ThrowIfNull(measure);
        ArgumentNullException.ThrowIfNull(field);
        return !field.StartsWith("operator_", StringComparison.Ordinal)
            || !Grave.Any(word => measure.Met.Contains(word, StringComparison.OrdinalIgnoreCase));
    }

    private static long Records(Count count) => count.Eligible + count.Missing;

    private static readonly string[] Grave = ["death", "died", "arrest_peri", "fona_performed", "plan_d_", "cico"];
}
