using System.Collections.Immutable;
using Outcomes.CaseMix;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.CaseMix;

/// <summary>
/// Intervals of observed over expected of the year after a 12-month history that hold the true ratio: bad cases expected at the year's own
/// odds over those at the history's, of the very cases that came.
/// </summary>
internal static class RatioCoverage
{
    public const string Part = "coverage", WithError = "with the model's error", Plain = "expected as known", Month = "one month";

    private const int History = 12, Months = 24;

    public static readonly ImmutableArray<FourFields> Kinds =
    [
        .. from volume in (double[])[10, 25, 50]
           from kind in (FourFields[])[new(volume, 0.8, 0), new(volume, 0.8, 0.7), new(volume, 0.8, 0.7, 2), new(volume, 0.8, 0, 1, 0.25)]
           select kind,
    ];

    public static IEnumerable<CaseMixRow> Rows(FourFields kind, int departments, ulong seed)
    {
        var cell = Seeds.Of(seed, 3, kind.Volume, kind.Spread, kind.Shift, kind.Odds, kind.Missing);
        var (held, plain, month, fitted) = (0, 0, 0, 0);
        for (var index = 0; index < departments; index++)
        {
            List<(double True, double Before)> chances = [];
            var months = kind.Draw(History, Months, History, CaseMixStudy.Uniform(cell, index), chances);
            if (months.Fit() is not { } model)
                continue;
            fitted++;
            var rows = model.Rows(months.Data);
            var (with, known) = Judge(History, Months);
            (held, plain) = (held + (with ? 1 : 0), plain + (known ? 1 : 0));
            month += Judge(History, History + 1).With ? 1 : 0;

            (bool With, bool Known) Judge(int from, int to)
            {
                int[] records = [.. months.Between(from, to)];
                if (records.Length == 0)
                    return (true, true);
                var truth = records.Sum(i => chances[i].True) / records.Sum(i => chances[i].Before);
                var (observed, expected) = (records.Count(i => months.Data.Events[i]), records.Sum(i => model.Models.Expected(rows[i])));
                var error = Math.Sqrt(model.Models.VarianceOfSum(records.Select(i => rows[i])));
                var wide = StandardisedRatio.EstimateWithError(observed, expected, error).Interval;
                var exact = StandardisedRatio.Estimate(observed, expected).Interval;
                return (wide.Lower <= truth && truth <= wide.Upper, exact.Lower <= truth && truth <= exact.Upper);
            }
        }

        var name = FormattableString.Invariant($"{kind.Volume} a month; mix moved by {kind.Shift}; odds times {kind.Odds}; first field ")
            + FormattableString.Invariant($"missing in {100 * kind.Missing} %");
        yield return new(Part, name, "95 %", WithError, "a year", held, fitted, cell);
        yield return new(Part, name, "95 %", WithError, Month, month, fitted, cell);
        yield return new(Part, name, "95 %", Plain, "a year", plain, fitted, cell);
        yield return new(Part, name, "-", WithError, "fitted", fitted, departments, cell);
    }
}
