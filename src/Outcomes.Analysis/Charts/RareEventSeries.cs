using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Proportions whose run chart cannot be tested because their event is rare: told case by case.</summary>
public static class RareEventSeries
{
    // A commoner event is told better by its proportion.
    private const double Often = 0.1;

    // Limits from fewer gaps than this would be chance dressed up as a line.
    private const int GapsForLimits = 3;

    // Fewer events have too few days between them for a picture.
    private const int EventsForDays = 3;

    // With more cases than this a month's proportion says more, and a list of single cases is no picture.
    private const long ManyCases = 50_000;

    /// <summary>The field that tells the day of an event.</summary>
    public const string Date = "event_date";

    // Events shared out of those of either: above this, two rows would tell one story twice.
    private const double NearlyAll = 0.8;

    /// <summary>One row an event that is rare, those that are nearly the same under one.</summary>
    public static ImmutableArray<RareEvents> Analyse(DepartmentCounts department, IEnumerable<MeasureFigures> measures) =>
        Grouped([.. Each(department, measures)]);

    /// <summary>Whether a proportion is told case by case: its event is rare, and its run chart cannot be tested.</summary>
    public static bool IsTold(DepartmentCounts department, Measure measure) =>
        measure.Kind == MeasureKind.Proportion && department.Book.Whole(measure.Id) is { } series
        && IsRare(department.Book.Sum(series, department.Book.First, department.Month))
        && IsSilent(MeasurePhases.Untested(department, measure, series));

    private static bool IsSilent(Untested? untested) => untested is Untested.MedianAtEdge or Untested.FewCases;

    private static bool IsRare(Count all) =>
        all.Eligible is > 0 and <= ManyCases && Math.Min(all.Met, all.Eligible - all.Met) <= Often * all.Eligible;

    private static IEnumerable<(RareEvents Events, HashSet<(int, int)> Records)> Each(
        DepartmentCounts department, IEnumerable<MeasureFigures> measures)
    {
        foreach (var report in measures.Where(report => IsSilent(report.RunChart?.Untested)))
        {
            var all = department.Book.Sum(report.Series, department.Book.First, department.Month);
            if (IsRare(all) && department.EventDesigns.TryGetValue(report.Measure.Id, out var design))
                yield return One(department, design, report.Measure, notMet: 2 * all.Met > all.Eligible);
        }
    }

    // Whoever comes first keeps the row: an event that is named before one that is the absence of something, more events before fewer, then
    // the catalogue's order.
    private static ImmutableArray<RareEvents> Grouped(ImmutableArray<(RareEvents Events, HashSet<(int, int)> Records)> all)
    {
        var under = new Dictionary<int, int>();
        foreach (var i in Enumerable.Range(0, all.Length).OrderBy(i => all[i].Events.EventIsNotMet)
            .ThenByDescending(i => all[i].Events.Count.Met).ThenBy(i => i))
        {
            var kept = under.Where(pair => pair.Key == pair.Value).Select(pair => pair.Key).Order()
                .FirstOrDefault(other => Alike(all[i].Records, all[other].Records), -1);
            under[i] = kept < 0 ? i : kept;
        }

        return [.. all.Select((each, i) => under[i] != i ? each.Events with { ToldUnder = all[under[i]].Events.Measure } : each.Events with
        {
            Alike = [.. Enumerable.Range(0, all.Length).Where(other => other != i && under[other] == i)
                .Select(other => new AlikeEvents(all[other].Events.Measure, all[other].Events.EventIsNotMet, all[other].Events.Count,
                    all[other].Records.Count(each.Records.Contains)))],
        })];
    }

    private static bool Alike(HashSet<(int, int)> one, HashSet<(int, int)> other)
    {
        var shared = one.Count(other.Contains);
        return shared > 0 && shared >= NearlyAll * (one.Count + other.Count - shared);
    }

    private static (RareEvents Events, HashSet<(int, int)> Records) One(
        DepartmentCounts department, Design design, Measure measure, bool notMet)
    {
        var dates = design.Fields.FirstOrDefault(field => field.Name == Date)?.Levels;
        int[] cases = [.. Enumerable.Range(0, design.Months.Length)
            .Where(i => design.Months[i] >= department.Book.First && design.Months[i] <= department.Month)];
        int[] events = [.. Enumerable.Range(0, cases.Length).Where(at => design.Met[cases[at]] != notMet)];
        var baseline = department.Plan.BaselineMonths(department.Book.First);
        var (before, after) = (Between(baseline.From, baseline.To), Between(baseline.To.AddMonths(1), department.Month));
        ImmutableArray<EventGap> gaps =
            [.. events.Skip(1).Select((at, i) => new EventGap(MonthAt(at), at - events[i], Days(Day(events[i]), Day(at))))];
        var since = events.Length == 0
            ? null
            : new EventGap(department.Month, cases.Length - 1 - events[^1], Days(Day(events[^1]), LastDay(department)));
        var count = new Count(events.Length, cases.Length, 0);
        return (new()
        {
            Measure = measure,
            EventIsNotMet = notMet,
            From = department.Book.First,
            To = department.Month,
            Count = count,
            Estimate = Proportion.Estimate(count),
            UpperWhenNone = count is { Met: 0, Eligible: > 0 } ? ClopperPearson.UpperWhenNone(count.Eligible) : null,
            First = events.Length == 0 ? null : new(MonthAt(events[0]), events[0] + 1, null),
            Gaps = gaps,
            Since = since,
            Chart = gaps.IsEmpty ? null : Chart(gaps, since!.Cases, baseline),
            DaysChart = events.Length < EventsForDays || gaps.Any(gap => gap.Days is null) || since!.Days is null
                ? null
                : RareEventChart.Times([.. gaps.Select(gap => (double)gap.Days!.Value)], since.Days, Limits(gaps, baseline)),
            Baseline = baseline,
            BaselineCount = before,
            AfterCount = after,
            AfterPoint = before.Met == 0 || after.Eligible == 0 ? null
                : CumulativePoisson.Accumulate([after.Met], [after.Eligible * (before.Met / (double)before.Eligible)])[0],
            Ratio = before.Eligible == 0 || after.Eligible == 0
                ? null
                : RateRatio.Exact((after.Met, after.Eligible), (before.Met, before.Eligible)),
        }, [.. events.Select(at => design.Rows[cases[at]])]);

        Month MonthAt(int at) => design.Months[cases[at]];

        DateOnly? Day(int at) => dates?[cases[at]] is { } text
            && DateOnly.TryParse(text.AsSpan(0, Math.Min(10, text.Length)), CultureInfo.InvariantCulture, out var day) ? day : null;

        Count Between(Month from, Month to) => new(events.Count(at => MonthAt(at) >= from && MonthAt(at) <= to),
            cases.Count(i => design.Months[i] >= from && design.Months[i] <= to), 0);
    }

    private static ControlChart Chart(ImmutableArray<EventGap> gaps, long since, (Month From, Month To) baseline) =>
        RareEventChart.Cases([.. gaps.Select(gap => gap.Cases)], since, Limits(gaps, baseline));

    private static ChartBaseline Limits(ImmutableArray<EventGap> gaps, (Month From, Month To) baseline)
    {
        // Gaps are in order of time, so those that end in the baseline are neighbours. A baseline behind them all gives no
        // limits, and says so.
        int[] inside = [.. Enumerable.Range(0, gaps.Length).Where(i => gaps[i].Month >= baseline.From && gaps[i].Month <= baseline.To)];
        return inside.Length < GapsForLimits ? new(gaps.Length, 1) : new(inside[0], inside.Length);
    }

    private static int? Days(DateOnly? from, DateOnly? to) => to?.DayNumber - from?.DayNumber;

    private static DateOnly LastDay(DepartmentCounts department) =>
        department.Month.LastDay < department.AsOf ? department.Month.LastDay : department.AsOf;
}
