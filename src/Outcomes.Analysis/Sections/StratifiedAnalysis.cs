using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A measure of a section and its levels, with intervals that allow for months that vary.</summary>
internal static class StratifiedAnalysis
{
    /// <param name="measure">A measure with a series in the book.</param>
    /// <param name="fields">The strata.</param>
    /// <param name="book">The section's counts over its span of months.</param>
    /// <param name="titles">In which order levels stand.</param>
    public static StratifiedMeasure Of(Measure measure, string[] fields, SeriesBook book, Titles titles)
    {
        var all = Months(book.Whole(measure.Id)!);
        var count = Sum(all);
        // So few cannot be split: every level would be merged, and the one row left would stand for one or two patients.
        if (count.Eligible + count.Missing < StratumFigures.LeastRecords)
            return new(measure, count, Estimate: null, []);
        var known = book.Whole(Known(measure)) is { } series ? Months(series) : null;
        return new(measure, count, VaryingMonths.Estimate(all),
            [.. fields.Where(field => StratumFigures.Allowed(measure, field) && Levels(book, measure.Id, field).Length > 0)
                .Select(field => Stratum(measure, field, book, titles, all, known))])
        {
            Known = known is null ? null : Sum(known),
            KnownEstimate = known is null ? null : VaryingMonths.Estimate(known),
        };
    }

    private static string Known(Measure measure) => measure.Id + ".known";

    private static StratumFigures Stratum(
        Measure measure, string field, SeriesBook book, Titles titles, IReadOnlyList<Count> all, IReadOnlyList<Count>? known)
    {
        var stratum = StratumFigures.Of(field, AnalyseSection.Ordered(titles, field, Levels(book, measure.Id, field))
            .Select(level => (level, Sum(Months(book.Of(measure.Id, field, level)!)))),
            (_, levels) => VaryingMonths.EstimateLevel(Add(book, measure.Id, field, levels)!, all));
        return known is null || Levels(book, Known(measure), field).Length == 0 ? stratum : WithKnown(stratum, measure, book, known);
    }

    /// <summary>The reading of those that say, level by level; merged levels are what remains.</summary>
    private static StratumFigures WithKnown(StratumFigures stratum, Measure measure, SeriesBook book, IReadOnlyList<Count> known)
    {
        string[] merged = [.. Levels(book, Known(measure), stratum.Field)
            .Where(level => stratum.Levels.All(kept => kept.Level != level))];
        return stratum with
        {
            Levels = [.. stratum.Levels.Select(level =>
            {
                var months = Add(book, Known(measure), stratum.Field, level.Level == StratumFigures.Other ? merged : [level.Level]);
                return level with
                {
                    Known = months is null ? default(Count) : Sum(months),
                    KnownEstimate = months is null || level.Estimate is null ? null : VaryingMonths.EstimateLevel(months, known),
                };
            })],
        };
    }

    private static string[] Levels(SeriesBook book, string measure, string field) =>
        [.. book.Cells(measure).Where(cell => cell.Stratum == field).Select(cell => cell.Level)];

    /// <summary>Levels together, month by month; null where none of them has a series.</summary>
    private static IReadOnlyList<Count>? Add(SeriesBook book, string measure, string field, IReadOnlyList<string> levels)
    {
        Series[] found = [.. levels.Select(level => book.Of(measure, field, level)).OfType<Series>()];
        return found.Length == 0 ? null : VaryingMonths.Add(found.Select(Months));
    }

    private static IReadOnlyList<Count> Months(Series series) => series.Counts;

    private static Count Sum(IReadOnlyList<Count> months) => months.Aggregate(default(Count), (sum, month) => sum + month);
}
