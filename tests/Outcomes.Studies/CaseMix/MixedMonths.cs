using System.Collections.Immutable;
using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Studies.CaseMix;

/// <summary>A department's cases, month by month: outcomes and fields.</summary>
internal sealed class MixedMonths(int history, int[] month, bool[] events, ImmutableArray<Covariate> given)
{
    public const int Reports = 36, Year = 12;

    public CaseMixData Data { get; } = new([.. events], given);

    public int Cases => month.Length;

    public int Month(int record) => month[record];

    public IEnumerable<int> Between(int from, int to) => Enumerable.Range(0, month.Length).Where(i => month[i] >= from && month[i] < to);

    /// <summary>The chances by the model of the history; null where it has none.</summary>
    public double[]? Chances(ImmutableArray<Covariate>? fields = null) => Fit(fields) is { } model
        ? [.. model.Expected(Data with { Given = fields ?? given })] : null;

    public CaseMixModel? Fit(ImmutableArray<Covariate>? fields = null) =>
        CaseMixFit.Fit((Data with { Given = fields ?? given }).Select([.. Between(0, history)]), new()).Model;

    /// <summary>The first signal of a test: its 0-based report and its way; null for none.</summary>
    /// <param name="options">The test.</param>
    /// <param name="chances">The chance of each case; null: the counts alone.</param>
    public (int Report, bool Worse)? Follow(MonthlyTestOptions options, double[]? chances)
    {
        var counts = new EventCount[history + Reports];
        var expected = counts.Select(_ => ImmutableArray.CreateBuilder<double>()).ToArray();
        for (var i = 0; i < month.Length; i++)
        {
            counts[month[i]] += new EventCount(events[i] ? 1 : 0, 1);
            if (chances is not null)
                expected[month[i]].Add(Math.Clamp(chances[i], 1e-6, 1 - 1e-6));
        }

        var walk = chances is null ? new MonthlyWalk(options)
            : new MonthlyWalk(options, [.. expected.Select(each => each.ToImmutable())], history);
        walk.Begin(counts.AsSpan(0, history));
        for (var report = 0; report < Reports; report++)
            if (walk.Take(counts[history + report]) is var (worse, _))
                return (report, worse);
        return null;
    }

    /// <summary>The first report with which a field had moved; null for none.</summary>
    public int? Moved(Covariate field)
    {
        var (missing, all) = (new long[history + Reports], new long[history + Reports]);
        for (var i = 0; i < month.Length; i++)
        {
            all[month[i]]++;
            missing[month[i]] += field.IsKnown(i) ? 0 : 1;
        }

        for (var report = 0; report < Reports; report++)
        {
            var six = (history + report - 5)..(history + report + 1);
            if (Analysis.MovedFields.HasMoved(missing[six].Sum(), all[six].Sum(), missing[..history].Sum(), all[..history].Sum()))
                return report;
        }

        return null;
    }
}
