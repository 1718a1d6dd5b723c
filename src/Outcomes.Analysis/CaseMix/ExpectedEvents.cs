using System.Collections.Immutable;
using System.Globalization;
using Outcomes.CaseMix;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>The measures that a pipeline judges against their case mix: fitted to the baseline, applied to every month.</summary>
public static class ExpectedEvents
{
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
        var (data, yearFrom) = (mix.Data, department.YearFrom);
        var given = model.Rows(data);
        double[] expected = [.. given.Select(model.Models.Expected)];
        Month[] months = [.. mix.Months];
        string?[] sites = [.. mix.Sites];
        Month[] all = [.. department.Book.First.To(department.Month)];
        var groups = Standardised.Compare(all, months, expected, data.Events, Error);
        var cumulative = Standardised.Accumulate(groups);
        var rows = groups.Select((group, at) => Row(group.Key, group.Key, null, group.Records, group.Ratio) with
        {
            Cumulative = Sum(cumulative[at]),
        }).ToImmutableArray();

        int[] year = [.. Enumerable.Range(0, months.Length).Where(i => months[i] >= yearFrom)];
        return report with
        {
            Challenger = department.Plan.CaseMix is { Challenger: true }
                ? ChallengerFigures.Compare(model, data.Select(mix.BaselineRecords()))
                : null,
            Months = rows,
            Year = Together(year, null),
            Sites = [.. year.Where(i => sites.Length > 0 && sites[i] is not null).GroupBy(i => sites[i]!)
                .OrderBy(group => group.Key, StringComparer.Ordinal).Select(group => Together([.. group], group.Key))],
            Figures = FittedFigures.Of(model, data, given),
        };

        double Error(int[] records) => Math.Sqrt(model.Models.VarianceOfSum(records.Select(i => given[i])));

        ObservedExpected Together(int[] records, string? site) => Row(yearFrom, department.Month, site, records.Length,
            records.Length == 0 ? null
                : StandardisedRatio.EstimateWithError(
                    records.Count(i => data.Events[i]), records.Sum(i => expected[i]), Error(records)));
    }

    internal static ObservedExpected Row(Month from, Month to, string? site, int records, Ratio? ratio) => new(
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
