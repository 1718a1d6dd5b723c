using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangeOddsTests
{
    private static readonly int[] Eligible = [9, 11, 10, 8, 12, 10, 9, 11, 10, 10, 12, 8, 10, 9, 11, 10, 12, 9, 10, 11, 0, 10];
    private static readonly int[] Bad = [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1, 2, 1, 3, 4, 3, 3, 4, 3, 0, 4];

    private static Count[] Months(int from, int to, bool metIsBad = true) =>
        [.. Enumerable.Range(from, to - from).Select(i => new Count(metIsBad ? Bad[i] : Eligible[i] - Bad[i], Eligible[i], 0))];

    private static Count[] Alike(int months, long met, long eligible) => [.. Enumerable.Repeat(new Count(met, eligible, 0), months)];

    [Fact]
    public void The_golden_series_gives_the_golden_odds()
    {
        // An independent program in Python with SciPy's gammaln, from the same formulas, to four decimals.
        double[] expected = [1.7553, 1.5997, 1.9328, 2.8959, 3.0897, 3.5714, 4.3575, 4.5093, 4.5203, 5.1954];
        var reading = ChangeOdds.Read(Months(0, 12), Months(12, 22), Better.Down, ChangeOddsOptions.FirstStudied);
        Assert.All(reading.Months.Zip(expected), pair => Assert.Equal(pair.Second, pair.First.LogOdds!.Value, 5.1e-5));
        Assert.Equal(6.3291, reading.Limit!.Value, 5.1e-5);
        Assert.Equal(ChangeState.NoSignOfChange, reading.State);
        Assert.Null(reading.Change);
    }

    [Theory]
    [MemberData(nameof(Fixtures))]
    public void Equals_the_definition_summed_over_every_start_of_a_change(string id)
    {
        var check = Check.Find("change_odds.json", id);
        long[] List(string name) => [.. check.Inputs[name]!.AsArray().Select(node => node!.GetValue<long>())];
        Count[] counts = [.. List("bad").Zip(List("eligible"), (bad, eligible) => new Count(bad, eligible, 0))];
        var history = (int)check.Integer("history");
        var reading = ChangeOdds.Read(counts[..history], counts[history..], Better.Down);
        double[] Expected(string name) => [.. check.Expected[name]!.AsArray().Select(node => node!.GetValue<double>())];
        Assert.All(Expected("log_odds").Zip(reading.Months), pair => Assert.Equal(pair.First, pair.Second.LogOdds!.Value, check.Tolerance));
        Assert.All(Expected("worse_share").Zip(reading.Months),
            pair => Assert.Equal(pair.First, pair.Second.WorseShare!.Value, check.Tolerance));
        Assert.Equal(Expected("log_odds").Length, reading.Months.Length);
        Assert.Equal(check.Expected["variation"]!.GetValue<double>(), reading.Variation!.Value, check.Tolerance);
        Assert.Equal(check.Expected["limit"]!.GetValue<double>(), reading.Limit!.Value, check.Tolerance);
    }

    public static TheoryData<string> Fixtures => Check.Ids("change_odds.json");

    [Fact]
    public void With_a_known_rate_it_is_the_recursion_of_Shiryaev_and_Roberts()
    {
        // R = (1 + R) Λ from 0, Λ the binomial likelihood ratio (Polunchenko AS, arXiv:1607.00959, eq. for the SR statistic; cited from
        // memory). Almost no uncertainty is left after a million cases of history.
        var options = new ChangeOddsOptions
        {
            OddsRatios = [2],
            WorseWeight = 1,
            HeadStart = 0,
            Variations = [1e-9],
            VariationWeights = [1],
            GridPoints = 1,
        };
        var reading = ChangeOdds.Read(Alike(12, 20_000, 100_000), Months(12, 22), Better.Down, options);
        var (r, p, q) = (0.0, 0.2, 0.4 / 1.2);
        for (var i = 0; i < 10; i++)
        {
            r = (1 + r) * Math.Pow(q / p, Bad[12 + i]) * Math.Pow((1 - q) / (1 - p), Eligible[12 + i] - Bad[12 + i]);
            Assert.Equal(Math.Log(r), reading.Months[i].LogOdds!.Value, 1e-4);
        }
    }

    [Fact]
    public void A_success_rate_reads_like_the_failure_rate_that_it_leaves()
    {
        var failures = ChangeOdds.Read(Months(0, 12), Months(12, 22), Better.Down);
        var successes = ChangeOdds.Read(Months(0, 12, metIsBad: false), Months(12, 22, metIsBad: false), Better.Up);
        Assert.Equal(failures.Months.Select(month => month.LogOdds), successes.Months.Select(month => month.LogOdds));
        Assert.Equal(failures.Limit, successes.Limit);
    }

    [Fact]
    public void More_reports_change_nothing_that_was_said_before()
    {
        Count[] history = Alike(12, 3, 20), reports = [.. Alike(6, 3, 20), .. Alike(6, 12, 20), .. Alike(6, 3, 20)];
        var whole = ChangeOdds.Read(history, reports, Better.Down);
        for (var months = 0; months <= reports.Length; months++)
        {
            var part = ChangeOdds.Read(history, reports[..months], Better.Down);
            Assert.Equal(whole.Months.Take(months), part.Months);
            if (part.Change is { } change)
                Assert.Equal((whole.Change!.Report, whole.Change.Start, whole.Change.Since), (change.Report, change.Start, change.Since));
        }
        // Six months of twelve in twenty are found, and stay found after six usual ones.
        Assert.InRange(whole.Change!.Report, 6, 11);
        Assert.Equal(ChangeState.ChangeSignal, whole.State);
        Assert.All(whole.Months.Skip(whole.Change.Report), month => Assert.Equal(ChangeState.ChangeSignal, month.State));
        Assert.All(whole.Months.Take(whole.Change.Report), month => Assert.Equal(ChangeState.NoSignOfChange, month.State));
    }

    [Theory]
    [InlineData(12, true)]
    [InlineData(0, false)]
    public void The_way_of_a_change_and_its_start_are_named(long later, bool worse)
    {
        Count[] reports = [.. Alike(10, 6, 30), .. Alike(12, later, 30)];
        var change = ChangeOdds.Read(Alike(24, 6, 30), reports, Better.Down).Change!;
        Assert.Equal(worse, change.ForTheWorse);
        Assert.InRange(10, change.Start.From, change.Start.To);
        Assert.InRange(change.Start.Likeliest, change.Start.From, change.Start.To);
        Assert.InRange(change.Start.Chance, 0.8, 1);
        // From the likeliest start to the signal, and the months that nothing chose.
        Assert.Equal(30 * (change.Report - change.Start.Likeliest + 1), change.Since!.Count.Eligible);
        Assert.Equal(30 * (reports.Length - change.Report - 1), change.After!.Count.Eligible);
        Assert.Equal(later / 30.0, change.After.Value, 1e-12);
    }

    [Theory]
    [InlineData(11, 20)]
    [InlineData(12, 3)]
    public void Eleven_months_or_39_cases_are_too_few_to_judge(int months, long eligible)
    {
        var reading = ChangeOdds.Read(Alike(months, 1, eligible), Alike(5, 3, 3), Better.Down);
        Assert.Equal(ChangeState.TooFewToJudge, reading.State);
        Assert.Null(reading.Limit);
        Assert.All(reading.Months, month => Assert.Equal((null, ChangeState.TooFewToJudge), (month.LogOdds, month.State)));
    }

    [Fact]
    public void Twelve_months_with_40_cases_are_enough()
    {
        Count[] history = [.. Alike(11, 1, 3), new Count(1, 7, 0)];
        Assert.Equal(ChangeState.NoSignOfChange, ChangeOdds.Read(history, [], Better.Down).State);
    }

    [Fact]
    public void Missing_records_take_no_part()
    {
        Count[] with = [.. Months(12, 22).Select(count => count with { Missing = 4 })];
        Assert.Equal(
            ChangeOdds.Read(Months(0, 12), Months(12, 22), Better.Down).Months.Select(month => month.LogOdds),
            ChangeOdds.Read(Months(0, 12), with, Better.Down).Months.Select(month => month.LogOdds));
    }

    [Fact]
    public void An_empty_month_adds_one_to_every_sum()
    {
        // With no case the likelihood ratio is 1: S − t is a martingale, so S grows by exactly 1.
        var reading = ChangeOdds.Read(Alike(12, 2, 10), Alike(3, 0, 0), Better.Down);
        Assert.All(Enumerable.Range(0, 3),
            i => Assert.Equal(7.0 + i + (new ChangeOddsOptions().HeadStart - 6), Math.Exp(reading.Months[i].LogOdds!.Value), 1e-9));
    }

    [Theory]
    [InlineData(0, 40)]
    [InlineData(40, 40)]
    [InlineData(5_000, 100_000)]
    [InlineData(300, 2_000)]
    public void Extreme_and_huge_counts_stay_numbers(long met, long eligible)
    {
        Count[] reports = [.. Alike(3, met, eligible), .. Alike(3, eligible - met, eligible), .. Alike(3, 0, 0)];
        var reading = ChangeOdds.Read(Alike(12, met, eligible), reports, Better.Down);
        Assert.All(reading.Months, month => Assert.True(double.IsFinite(month.LogOdds!.Value) && month.WorseShare is >= 0 and <= 1));
        Assert.True(double.IsFinite(reading.Limit!.Value));
    }

    [Fact]
    public void Tables_and_the_gamma_function_give_one_likelihood()
    {
        // The likelihood is a product of a part for bad and a part for good: L(x,y) L(u,v) = L(x,v) L(u,y). Up to 256 come from tables,
        // more do not.
        var grid = new ChangeGrid(new());
        grid.Centre(20, 100, 12, new double[grid.Cells]);
        for (var alternative = 0; alternative < grid.Alternatives; alternative++)
        {
            double Log(long bad, long good)
            {
                var (x, from, y, to) = grid.Likelihood(alternative, 0, bad, bad + good);
                return Math.Log(x[from + 5]) + Math.Log(y[to + 5]);
            }
            Assert.Equal(Log(40, 100) + Log(70, 300), Log(40, 300) + Log(70, 100), 1e-7);
            Assert.Equal(Log(40, 100) + Log(300, 130), Log(40, 130) + Log(300, 100), 1e-7);
        }
    }

    [Fact]
    public void More_reports_than_the_horizon_and_impossible_counts_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ChangeOdds.Read(Alike(12, 2, 10), Alike(37, 2, 10), Better.Down));
        Assert.Throws<ArgumentOutOfRangeException>(() => ChangeOdds.Read(Alike(12, 2, 10), [new(3, 2, 0)], Better.Down));
    }

    [Fact]
    public void The_variation_is_small_where_months_are_alike_and_large_where_they_are_not()
    {
        double Variation(params long[] met) => ChangeOdds.Read(
            [.. Enumerable.Range(0, 24).Select(i => new Count(met[i % met.Length], 50, 0))], [], Better.Down).Variation!.Value;
        Assert.True(Variation(10) < 0.005);
        Assert.True(Variation(2, 20, 10) > 0.05);
    }
}
