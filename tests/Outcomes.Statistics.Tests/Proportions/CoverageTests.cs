using System.Text;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// How often an interval holds the true proportion, by adding up binomial probabilities: no simulation. The table of
/// docs/statistics/coverage.md is what this makes; if it is not, the message holds the table to put there.
/// </summary>
public class CoverageTests
{
    private static readonly IntervalMethod[] Methods =
        [IntervalMethod.Wilson, IntervalMethod.ClopperPearson, IntervalMethod.Jeffreys, IntervalMethod.MidP, IntervalMethod.AgrestiCoull];

    /// <summary>True proportions 0.005, 0.010 … 0.995.</summary>
    private static readonly double[] Grid = [.. Enumerable.Range(1, 199).Select(i => i / 200.0)];

    [Fact]
    public void The_table_in_the_docs_is_the_coverage_of_these_intervals()
    {
        var text = new StringBuilder();
        foreach (var n in Enumerable.Range(5, 96))
        {
            text.Append(n is 5 ? "" : "\n").Append($"| {n} |");
            foreach (var method in Methods)
            {
                var coverage = Coverage(method, n);
                text.Append($" {100 * coverage.Average():F1} / {100 * coverage.Min():F1} |");
            }
        }
        var page = Repository("docs", "statistics", "coverage.md").ReplaceLineEndings("\n");
        Assert.True(page.Contains(text.ToString(), StringComparison.Ordinal), $"the rows of docs/statistics/coverage.md should be\n{text}");
    }

    [Fact]
    public void The_exact_interval_never_undercovers_and_the_others_are_near_their_level_on_average()
    {
        foreach (var n in new[] { 5, 20, 60, 100 })
        {
            Assert.True(Coverage(IntervalMethod.ClopperPearson, n).Min() >= 0.95 - 1e-12);
            // Common practice: what recommends these four is that their mean comes near the level (Brown LD, Cai TT, DasGupta A. Stat Sci
            // 2001;16:101-133).
            foreach (var method in Methods.Where(method => method != IntervalMethod.ClopperPearson))
                Assert.InRange(Coverage(method, n).Average(), 0.94, 0.98);
        }
        // What makes the textbook interval the one not to use.
        Assert.All(Enumerable.Range(5, 96), n => Assert.True(Coverage(IntervalMethod.Wald, n).Min() < 0.5));
    }

    [Fact]
    public void Coverage_of_a_case_worked_by_hand()
    {
        // n = 1, exact interval: 0 gives 0 to 0.975 and 1 gives 0.025 to 1, so that p = 0.5 is held by both and p = 0.01 by the first
        // alone.
        Assert.Equal(1, Holds(IntervalMethod.ClopperPearson, 1, 0.5), 1e-15);
        Assert.Equal(0.99, Holds(IntervalMethod.ClopperPearson, 1, 0.01), 1e-15);
    }

    private static double[] Coverage(IntervalMethod method, int n)
    {
        var intervals = Enumerable.Range(0, n + 1).Select(met => Proportion.Estimate(new(met, n, 0), method)!).ToArray();
        return [.. Grid.Select(p => Covered(intervals, n, p))];
    }

    private static double Holds(IntervalMethod method, int n, double p) =>
        Covered([.. Enumerable.Range(0, n + 1).Select(met => Proportion.Estimate(new(met, n, 0), method)!)], n, p);

    private static double Covered(Estimate[] intervals, int n, double p)
    {
        var (sum, term) = (0.0, Math.Pow(1 - p, n));
        for (var met = 0; met <= n; met++)
        {
            if (intervals[met].Lower <= p && p <= intervals[met].Upper)
                sum += term;
            term *= (n - met) * p / ((met + 1) * (1 - p));
        }
        return sum;
    }

    private static string Repository(params string[] path)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
                return File.ReadAllText(Path.Combine([folder.FullName, .. path]));
        throw new FileNotFoundException($"no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
