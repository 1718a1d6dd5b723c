using System.Globalization;
using MathNet.Numerics.Distributions;
using Outcomes.Statistics;

namespace Outcomes.Studies.Coverage;

/// <summary>
/// How often the intervals of a report's pages hold what they are for, where months vary by themselves: rates of months are beta with a
/// stated intraclass correlation of their cases.
/// </summary>
internal static class PageIntervalStudy
{
    public const string Header = "kind,cases,rate,icc,departments,coverage";
    public const int Departments = 4_000;

    private const int Months = 12, Seed = 20_261_130;

    public static readonly int[] Cases = [10, 25, 50];
    public static readonly double[] Rates = [0.05, 0.2];
    public static readonly double[] Correlations = [0, 0.02, 0.05];

    public static void Write(string file, string[] rest)
    {
        var departments = rest is [var number] ? int.Parse(number, CultureInfo.InvariantCulture) : Departments;
        File.WriteAllText(file, string.Concat(Rows(departments).Concat(LevelIntervalStudy.Rows(departments)).Select(row => row + "\n")
            .Prepend(Header + "\n")));
    }

    /// <summary>A row a kind of interval and cell.</summary>
    public static IEnumerable<string> Rows(int departments) =>
        from cases in Cases
        from rate in Rates
        from correlation in Correlations
        from row in Cell(cases, rate, correlation, departments)
        select row;

    private static IEnumerable<string> Cell(int cases, double rate, double correlation, int departments)
    {
        var random = new Random(Seed + cases + (int)(1000 * rate) + (int)(100_000 * correlation));
        var held = new Dictionary<string, (long Held, long Of)>(StringComparer.Ordinal);
        for (var department = 0; department < departments; department++)
        {
            var (year, before) = (Year(random, cases, rate, correlation), Year(random, cases, rate, correlation));
            foreach (var (month, own) in year.Select(month => (month.All, month.Rate)).Where(month => month.All.Cases > 0))
                Note("month", Wilson.Interval(month.Events, month.Cases), own);
            EventCount[] all = [.. year.Select(month => month.All)];
            Note("12 months", VaryingProportion.Estimate(all)!.Within, rate);
            Note("12 months, plain", VaryingProportion.Estimate(all)!.Plain, rate);
            var (third, rest) = (Sum(year.Select(month => month.Third)), Sum(year.Select(month => month.Rest)));
            if (third.Cases == 0 || rest.Cases == 0)
                continue;
            var difference = Difference.Newcombe(Counted(third), Counted(rest))!;
            Note("difference of parts", new(difference.Lower, difference.Upper), 0);
            if (VaryingDifference.Estimate([.. before.Select(month => month.All)], all) is { } planned)
                Note("planned evaluation", new(planned.Lower, planned.Upper), 0);
        }

        return held.Select(pair => string.Create(CultureInfo.InvariantCulture,
            $"{pair.Key.Replace(",", "", StringComparison.Ordinal)},{cases},{rate},{correlation},{departments},"
                + $"{100.0 * pair.Value.Held / pair.Value.Of:0.0}"));

        void Note(string kind, Bounds bounds, double truth)
        {
            var (times, of) = held.GetValueOrDefault(kind);
            held[kind] = (times + (bounds.Lower <= truth && truth <= bounds.Upper ? 1 : 0), of + 1);
        }
    }

    private readonly record struct DrawnMonth(double Rate, EventCount Third, EventCount Rest)
    {
        public EventCount All => Third + Rest;
    }

    private static DrawnMonth[] Year(Random random, int cases, double rate, double correlation) =>
        [.. Enumerable.Range(0, Months).Select(_ =>
        {
            var own = DrawRate(random, rate, correlation);
            return new DrawnMonth(own, Draw(random, cases / 3.0, own), Draw(random, cases * 2 / 3.0, own));
        })];

    /// <summary>The rate of one month.</summary>
    public static double DrawRate(Random random, double rate, double correlation) => correlation == 0 ? rate
        : Beta.Sample(random, rate * (1 - correlation) / correlation, (1 - rate) * (1 - correlation) / correlation);

    /// <summary>The cases and events of one month.</summary>
    public static EventCount Draw(Random random, double mean, double rate)
    {
        var cases = Poisson.Sample(random, mean);
        return new(cases == 0 ? 0 : Binomial.Sample(random, Math.Clamp(rate, 0, 1), cases), cases);
    }

    private static EventCount Sum(IEnumerable<EventCount> months) => months.Aggregate(default(EventCount), EventCount.Add);

    private static Count Counted(EventCount events) => new(events.Events, events.Cases, 0);
}
