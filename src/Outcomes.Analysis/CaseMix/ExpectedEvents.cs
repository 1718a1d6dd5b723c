using System.Collections.Immutable;
using System.Globalization;
using Outcomes.CaseMix;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The measures that a pipeline judges against their case mix: fitted to the baseline, applied to every month.</summary>
public static class ExpectedEvents
{
    private const double OddsRatio = 2;
    private const double FalseAlarm = 0.05;
    private const int AlarmMonths = 36;

    /// <summary>One report a measure, in the order given.</summary>
    public static ImmutableArray<CaseMixFigures> Compare(DepartmentCounts department, ImmutableArray<FittedMix> mixes) =>
        [.. mixes.AsParallel().AsOrdered().Select(mix => Compare(department, mix))];

    private static CaseMixFigures Compare(DepartmentCounts department, FittedMix mix)
    {
        var (from, to) = mix.Baseline;
        var baseline = mix.BaselineRecords();
        var report = new CaseMixFigures
        {
            Measure = mix.Measure,
            EventIsNotMet = mix.EventIsNotMet,
            From = from,
            To = to,
            Records = baseline.Length,
            Events = baseline.Count(i => mix.Data.Events[i]),
            Missing = department.Book.Sum(department.Book.Whole(mix.Measure.Id), from, to).Missing,
            Refused = mix.Fit.Refusal is { } refusal ? (refusal.Columns, refusal.EventsNeeded, refusal.Events) : null,
            Omitted = [.. mix.NotCollected.Select(field =>
                new CaseMixOmission(field, null, OmittedBecause.NotCollected)),
                .. mix.Fit.Model?.Omitted.Select(omission =>
                    new CaseMixOmission(omission.Field, omission.Level, Why(omission.Why))) ?? []],
        };
        return mix.Fit.Model is not { } model ? report
            : Judged(department, report, mix, model);
    }

    private static CaseMixFigures Judged(DepartmentCounts department, CaseMixFigures report, FittedMix mix, CaseMixModel model)
    {
        var (data, baseline, yearFrom) = (mix.Data, mix.Data.Select(mix.BaselineRecords()), department.YearFrom);
        var given = model.Rows(data);
        double[] expected = [.. given.Select(model.Models.Expected)];
        Month[] months = [.. mix.Months];
        string?[] sites = [.. mix.Sites];
        var perMonth = report.Records / (double)(report.To.MonthsSince(report.From) + 1);
        var horizon = Math.Max(1, (int)Math.Round(perMonth * AlarmMonths));
        var simulated = model.Limit(baseline, OddsRatio, FalseAlarm, horizon, SplitMix64.Uniform(20_000_441));
        var limit = Six(simulated.Value);
        int[] after = [.. Enumerable.Range(0, months.Length).Where(i => months[i] > report.To)];
        // To six digits, so that no processor's last bits decide whether the limit was reached.
        var chart = RiskAdjustedCusum.Accumulate([.. after.Select(i => Six(expected[i]))],
            [.. after.Select(i => data.Events[i])], OddsRatio, limit);
        var signals = chart.Signals.Select(at => months[after[at]]).ToHashSet();
        var ends = after.Select((record, at) => (Month: months[record], Value: chart.Values[at])).GroupBy(pair => pair.Month)
            .ToDictionary(group => group.Key, group => group.Last().Value);

        Month[] all = [.. department.Book.First.To(department.Month)];
        var groups = Standardised.Compare(all, months, expected, data.Events, Error);
        var cumulative = Standardised.Accumulate(groups);
        var carried = 0.0;
        var rows = groups.Select((group, at) =>
        {
            carried = ends.GetValueOrDefault(group.Key, carried);
            return Row(group.Key, group.Key, null, group.Records, group.Ratio) with
            {
                Cumulative = Sum(cumulative[at]),
                Cusum = group.Key > report.To ? Six(carried) : null,
                Signal = signals.Contains(group.Key),
            };
        }).ToImmutableArray();

        int[] year = [.. Enumerable.Range(0, months.Length).Where(i => months[i] >= yearFrom)];
        return report with
        {
            Challenger = department.Plan.CaseMix is { Challenger: true } ? ChallengerFigures.Compare(model, baseline) : null,
            Months = rows,
            Year = Together(year, null),
            Sites = [.. year.Where(i => sites.Length > 0 && sites[i] is not null).GroupBy(i => sites[i]!)
                .OrderBy(group => group.Key, StringComparer.Ordinal).Select(group => Together([.. group], group.Key))],
            Figures = FittedFigures.Of(model, data, given,
                new(OddsRatio, limit, FalseAlarm, AlarmMonths, horizon, simulated.Runs, simulated.HoldsModelError, [.. signals.Order()])),
        };

        double Error(int[] records) => Math.Sqrt(model.Models.VarianceOfSum(records.Select(i => given[i])));

        ObservedExpected Together(int[] records, string? site) => Row(yearFrom, department.Month, site, records.Length,
            records.Length == 0 ? null
                : StandardisedRatio.EstimateWithError(
                    records.Count(i => data.Events[i]), records.Sum(i => expected[i]), Error(records)));
    }

    private static ObservedExpected Row(Month from, Month to, string? site, int records, Ratio? ratio) => new(
        from, to, site, records, ratio?.Observed ?? 0, Six(ratio?.Expected ?? 0),
        ratio is null ? null : new(Six(ratio.Value), new(Six(ratio.Interval.Lower), Six(ratio.Interval.Upper))))
    {
        ExpectedError = ratio is null ? null : Six(ratio.ExpectedError),
    };

    // At the end of the baseline the sum is 0 but for the last bits: decimals are cut, not digits.
    private static double Sum(double value) => Six(Math.Round(value, 4));

    private static OmittedBecause Why(LeftOut why) => why switch
    {
        LeftOut.TooFewEvents => OmittedBecause.TooFewEvents,
        LeftOut.SeldomRecorded => OmittedBecause.SeldomRecorded,
        LeftOut.NoVariation => OmittedBecause.NoVariation,
        _ => OmittedBecause.SaidAlready,
    };

    /// <summary>Six significant digits: as many as fitted numbers share between processors.</summary>
    public static double Six(double value) =>
        double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
