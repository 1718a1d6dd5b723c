using System.Globalization;
using Outcomes.Statistics;
using Outcomes.Studies.Monthly;

namespace Outcomes.Tests;

/// <summary>
/// The monthly test under other conditions: the committed rows, the tables made from them, and small runs that must agree.
/// </summary>
public class ConditionStudyTests
{
    private static readonly ConditionRow[] Rows =
        [.. StudyFile.Read("monthly-test-conditions.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
            .Select(ConditionRow.Parse)];

    private static readonly MonthlyRow[] Main =
        [.. StudyFile.Read("monthly-test-study.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(MonthlyRow.Parse)];

    private static readonly Lazy<(double Volume, double Correlation, OwnLuck Luck)[]> Lucks = new(() =>
        [.. ConditionStudy.LuckVolumes.SelectMany(volume => ConditionStudy.Correlations.Select(correlation =>
            (volume, correlation, OwnLuck.Estimate(Rows, volume, correlation))))]);

    [Fact]
    public void The_page_shows_the_committed_rows()
    {
        var made = Path.Combine(AppContext.BaseDirectory, "monthly-test-conditions.md");
        File.WriteAllText(made, ConditionTables.Markdown(Rows, Main, Lucks.Value));
        Assert.True(StudyFile.Read("monthly-test.md").Contains(File.ReadAllText(made), StringComparison.Ordinal),
            $"docs/statistics/monthly-test.md does not hold the tables of other conditions; copy {made} into it");
    }

    [Fact]
    public void The_page_says_in_words_what_the_rows_hold()
    {
        var page = StudyFile.Read("monthly-test.md");
        string Range(string condition, double correlation)
        {
            double[] shares = [.. MonthlyStudy.Cells.Select(cell =>
                100 * ConditionTables.Family(Rows, Main, condition, cell, correlation).Share)];
            return string.Create(CultureInfo.InvariantCulture, $"{shares.Min():0.0} to {shares.Max():0.0} %");
        }

        string[] names = [.. MonthlyCondition.All.Select(condition => condition.Name)];
        var (together, luck) = (Togetherness.All, Lucks.Value);
        string Luck(int at, double correlation)
        {
            double[] found = [.. luck.Where(each => each.Correlation == correlation).Select(each => 100 * each.Luck.Percentiles[at])];
            return string.Create(CultureInfo.InvariantCulture, $"{found.Min():0.0} to {found.Max():0.0} %");
        }

        Assert.All(
            (string[])
            [
                $"with 10 % not recorded {Range(names[0], 0)} at ρ 0 and {Range(names[0], 0.02)} at ρ .02",
                $"after volumes double {Range(names[1], 0)} at ρ 0, but {Range(names[1], 0.02)} at ρ .02",
                $"after they halve {Range(names[2], 0)} and {Range(names[2], 0.02)}",
                $"the same good and bad months: {Range(together[0].Name, 0.01)} at ρ .01 and {Range(together[1].Name, 0.02)} at ρ .02",
                $"on the same patients: {Range(together[2].Name, 0)} at ρ 0, and with both {Range(together[3].Name, 0.02)} at ρ .02",
                $"at ρ .02 one in ten has at most {Luck(0, 0.02)}, the middle one {Luck(1, 0.02)}, one in ten at least {Luck(2, 0.02)}",
                $"at ρ 0 {Luck(0, 0)}, {Luck(1, 0)} and {Luck(2, 0)}",
                $"of a measure's false signals {LuckyFifth()} follow",
            ],
            words => Assert.Contains(words, page.Replace("\n  ", " ", StringComparison.Ordinal),
                StringComparison.Ordinal));
        // What the page calls the one breach of the budget, and that nothing else is one.
        Assert.All(MonthlyStudy.Cells, cell => Assert.True(ConditionTables.Family(Rows, Main, names[1], cell, 0.02).Share > 0.10));
        Assert.All(ConditionTables.FalseConditions(Rows).Where(line => line != (names[1], 0.02)), line =>
            Assert.All(MonthlyStudy.Cells, cell =>
            {
                var (share, error) = ConditionTables.Family(Rows, Main, line.Condition, cell, line.Correlation);
                Assert.True(share <= 0.10 + error, $"{line}, {cell}: {share}");
            }));
    }

    // Rows of histories drawn evenly are in the order of their rates.
    private static string LuckyFifth()
    {
        double[] shares = [.. Rows.Where(row => row.Condition == OwnHistories.Even)
            .Select(row => 100.0 * row.Counts[..(row.Counts.Length / 5)].Sum() / row.Counts.Sum())];
        return string.Create(CultureInfo.InvariantCulture, $"{shares.Min():0} to {shares.Max():0} of 100");
    }

    [Fact]
    public void After_volumes_halve_small_departments_notice_a_third_to_three_quarters_less()
    {
        double[] less = [.. MonthlyStudy.Cells.Where(cell => cell.Volume <= 10).SelectMany(cell => ConditionStudy.Truths.Select(truth =>
            1 - (ConditionTables.Noticed(Rows, Main, MonthlyCondition.All[2].Name, cell, truth).Share
                / ConditionTables.Noticed(Rows, Main, ConditionTables.Main, cell, truth).Share)))];
        Assert.InRange(less.Min(), 0.28, 0.36);
        Assert.InRange(less.Max(), 0.7, 0.78);
    }

    [Fact]
    public void Every_figure_has_a_standard_error_of_at_most_0_7_points()
    {
        foreach (var cell in MonthlyStudy.Cells)
        {
            Assert.All(ConditionTables.FalseConditions(Rows), line =>
                Assert.InRange(ConditionTables.Family(Rows, Main, line.Condition, cell, line.Correlation).Error, 0.0005, 0.007));
            foreach (var truth in ConditionStudy.Truths)
                Assert.All(MonthlyCondition.All, condition =>
                    Assert.InRange(ConditionTables.Noticed(Rows, Main, condition.Name, cell, truth).Error, 0, 0.007));
        }
        Assert.All(Lucks.Value.SelectMany(each => each.Luck.Errors), error => Assert.InRange(error, 0.00005, 0.007));
    }

    // One history a department, averaged, is the main study's stable department: other seeds, so within four standard errors.
    [Fact]
    public void Departments_by_their_own_histories_have_the_mean_of_the_main_study()
    {
        foreach (var (volume, correlation, luck) in Lucks.Value)
        {
            var (share, error) = ConditionTables.Family(Rows, Main, ConditionTables.Main, (volume, 12), correlation);
            Assert.Equal(share, luck.Mean, 4 * error);
        }
    }

    [Fact]
    public void Committed_departments_come_out_again()
    {
        var walk = new MonthlyWalk(MonthlyTestOptions.Joint);
        var again = ConditionStudy.FalseRows(walk, MonthlyCondition.All[1], 10, 12, ConditionStudy.Departments).First();
        Assert.Contains(again.Line, Rows.Select(row => row.Line));
        var luck = OwnHistories.Few(walk, 25, 0.02, 0.15, 2, OwnHistories.ManyFutures);
        var committed = Rows.Single(row => row.Condition == OwnHistories.Drawn
            && (row.Volume, row.Correlation, row.Figure) == (25, 0.02, "15 %"));
        Assert.Equal((committed.Seed, committed.Counts[0], committed.Counts[1]), (luck.Seed, luck.Counts[0], luck.Counts[1]));
        Assert.Equal((OwnHistories.FewHistories, OwnHistories.ManyFutures), (committed.Counts.Length, committed.Of));
        Assert.All(Rows.Where(row => row.Condition == OwnHistories.Even),
            row => Assert.Equal((OwnHistories.ManyHistories, OwnHistories.FewFutures), (row.Counts.Length, row.Of)));
    }

    [Fact]
    public void Missing_outcomes_leave_nine_cases_of_ten_at_the_same_rate_and_volumes_change_after_month_18()
    {
        foreach (var (condition, before, after) in new[] { (0, 18.0, 18.0), (1, 20.0, 40.0), (2, 20.0, 10.0) })
        {
            var draws = new ConditionDraws(MonthlyCondition.All[condition], 20, 12, [.. Enumerable.Repeat(0.2, 48)], 0.02, 3);
            var months = new EventCount[48];
            var sums = new EventCount[2];
            for (var index = 0; index < 500; index++)
            {
                draws.Draw(index, months);
                sums[0] = months[..30].Aggregate(sums[0], EventCount.Add);
                sums[1] = months[30..].Aggregate(sums[1], EventCount.Add);
            }
            Assert.Equal(before, sums[0].Cases / (500.0 * 30), 0.2);
            Assert.Equal(after, sums[1].Cases / (500.0 * 18), 0.3);
            Assert.Equal(0.2, (double)(sums[0] + sums[1]).Events / (sums[0] + sums[1]).Cases, 0.004);
        }
    }

    [Fact]
    public void Measures_of_the_same_patients_have_events_in_each_other_and_those_of_the_same_months_rise_and_fall_together()
    {
        double Correlation(Togetherness together)
        {
            var draws = new SixDraws(together, 20, 5);
            EventCount[][] measures = [.. SixDraws.Rates.Select(_ => new EventCount[48])];
            double both = 0, first = 0, second = 0;
            for (var index = 0; index < 300; index++)
            {
                draws.Draw(index, measures);
                for (var month = 0; month < 48; month++)
                {
                    var (rare, often) = (measures[0][month], measures[5][month]);
                    Assert.True(!together.SameCases || rare.Events <= often.Events);
                    Assert.Equal(rare.Cases, often.Cases);
                    var (x, y) = (rare.Events - (0.05 * rare.Cases), often.Events - (0.2 * often.Cases));
                    (both, first, second) = (both + (x * y), first + (x * x), second + (y * y));
                }
            }
            return both / Math.Sqrt(first * second);
        }

        // Of nested events with rates p < q the correlation is √(p(1 − q)/(q(1 − p))), by hand: √(0.05 · 0.8/(0.2 · 0.95)) = 0.459.
        Assert.Equal(0.459, Correlation(Togetherness.All[2]), 0.02);
        // Months at one quantile: both vary by 1 + 19 ρ, of which 20 ρ/(1 + 19 ρ) is in common (the quantiles are not quite linear).
        Assert.Equal(20 * 0.02 / (1 + (19 * 0.02)), Correlation(Togetherness.All[1]), 0.05);
    }

    // Chances of 1 and 20 % in equal parts, seen through 100 futures each: the mixture finds both, where raw shares spread around them.
    [Fact]
    public void The_mixture_of_chances_leaves_out_the_chance_of_the_futures()
    {
        var uniform = SplitMix64.Uniform(11);
        (int, int)[] counts = [.. Enumerable.Range(0, 4_000).Select(i =>
            (Enumerable.Range(0, 100).Count(_ => uniform() < (i % 2 == 0 ? 0.01 : 0.2)), 100))];
        var weights = OwnLuck.Mixture(counts);
        Assert.Equal(1, weights.Sum(), 1e-9);
        double Weight(double low, double high) =>
            weights.Where((_, i) => 1e-5 * Math.Pow(0.9e5, i / 59.0) is var chance && chance > low && chance < high).Sum();
        Assert.Equal(0.5, Weight(0.003, 0.03), 0.03);
        Assert.Equal(0.5, Weight(0.15, 0.27), 0.03);
        // Of the raw shares fewer lie there: of 100 futures at 1 % over a third have no signal at all, and others three or more.
        Assert.True(counts.Count(each => each.Item1 is 1 or 2) < 0.4 * counts.Length);
    }

    [Fact]
    public void A_row_survives_its_file()
    {
        ConditionRow row = new("by department", 10, 12, 0.02, "own history", "5 %", [3, 0, 12], 1_000, 12_345_678_901_234_567_890);
        Assert.Equal(row.Line, ConditionRow.Parse(row.Line).Line);
        Assert.Equal("by department,10,12,0.02,own history,5 %,3 0 12,1000,12345678901234567890", row.Line);
    }
}
