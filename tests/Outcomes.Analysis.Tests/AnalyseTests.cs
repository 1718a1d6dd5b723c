using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Analysis;

/// <summary>
/// The front door as another program uses it: counts in, figures out, without records, engine or files. The published numbers are those of
/// Newcombe RG. Stat Med 1998;17:857-872 (intervals of 81/263 and 15/148) and 873-890 (56/70 against 48/80).
/// </summary>
public sealed class AnalyseTests
{
    private static readonly Month First = new(2024, 1);

    private static readonly Measure Event = new("event", "Event") { Eligible = "adult", Met = "spo2_min < 90", Direction = Direction.Down };

    [Fact]
    public void A_year_of_counts_gives_the_published_wilson_interval()
    {
        // 81 of 263 over twelve months: 0.2553 to 0.3662.
        var figures = Analyse.Department(Department(24, month => month < 12 ? new(5, 20, 0) : month == 12 ? new(81, 263, 7) : default));
        var report = Assert.Single(figures.Measures);
        Assert.Equal(new Count(81, 263, 7), report.Year);
        Assert.Equal(0.2553, report.YearEstimate!.Lower, 5e-5);
        Assert.Equal(0.3662, report.YearEstimate.Upper, 5e-5);
        Assert.False(report.MonthsVary);
        Assert.Equal((First, First.AddMonths(23), First.AddMonths(12)), (figures.First, figures.Last, figures.YearFrom));
    }

    // 1 and 9 of 20 by turns: each month is 4 from the pooled 60.5/241 of 20, so Pearson's statistic is 12 * 16 / (20 * p * (1 - p)) over
    // 11 degrees of freedom, by hand.
    [Fact]
    public void Months_that_vary_widen_the_interval_of_the_year_and_the_plain_one_stands_beside()
    {
        var report = Analyse.Department(Department(12, month => new(month % 2 == 0 ? 1 : 9, 20, 0))).Measures[0];
        var pooled = 60.5 / 241;
        var (low, high) = (1 - (20 * pooled), 9 - (20 * pooled));
        Assert.Equal(6 * ((low * low) + (high * high)) / (20 * pooled * (1 - pooled)) / 11, report.YearDispersion!.Value, 1e-12);
        Assert.True(report.MonthsVary);
        // Wilson's interval of 60 of 240, by R: prop.test(60, 240, correct = FALSE).
        Assert.Equal((0.1994, 0.3084), (Math.Round(report.YearPlain!.Lower, 4), Math.Round(report.YearPlain.Upper, 4)));
        Assert.True(report.YearEstimate!.Lower < 0.17 && report.YearEstimate.Upper > 0.35);
    }

    // A composite of which one part is known to fail cannot be met, whatever the other holds: 2 of 8 with two missing lies between 2 and 4
    // of 10; with one of the two decided as not met, between 2 and 3 of 10 (Manski's bounds, by hand).
    [Fact]
    public void A_missing_record_whose_known_part_decides_moves_no_bound()
    {
        var department = Department(12, month => month == 11 ? new(2, 8, 2) : default);
        var plain = Analyse.Department(department).Measures[0];
        Assert.Equal((new Bounds(0.2, 0.4), 0L), (plain.YearBounds!.Value, plain.YearDecided));
        CountRow Row(Count count) => new("event", First.AddMonths(11), CountRow.All, CountRow.All, count);
        var sharp = Analyse.Department(department with { Decided = [Row(new(2, 9, 1))] }).Measures[0];
        Assert.Equal((new Bounds(0.2, 0.3), 1L), (sharp.YearBounds!.Value, sharp.YearDecided));
        Assert.Equal(plain.YearEstimate, sharp.YearEstimate);
        // Counted from other sources it says nothing of these.
        Assert.Equal(0, Analyse.Department(department with { Decided = [Row(new(2, 12, 1))] }).Measures[0].YearDecided);
    }

    // Months that do not vary more than chance: the interval is Newcombe's method 10 with Student's t in place of z, so it holds his.
    [Fact]
    public void A_declared_change_is_compared_in_its_month_by_an_interval_that_holds_the_published_one()
    {
        // 48 of 80 before, 56 of 70 after, spread evenly: Newcombe's interval of the difference 0.2 is 0.0524 to 0.3339.
        var change = new DeclaredChange(First.AddMonths(12).FirstDay, "New checklist", ["event"], Direction.Up, NewPhase: false, "");
        var department = Department(24, month => month < 8 ? new(6, 10, 0) : month is >= 12 and < 19 ? new(8, 10, 0) : default);
        var evaluation = Assert.Single(Analyse.Department(department with { Plan = department.Plan with { Changes = [change] } }).Changes);
        Assert.Equal((new Count(48, 80, 0), new Count(56, 70, 0)), (evaluation.BeforeCount, evaluation.AfterCount));
        Assert.Equal((EvaluationState.AsExpected, First.AddMonths(23)), (evaluation.State, evaluation.Due));
        Assert.Equal(0.2, evaluation.Difference!.Value, 1e-12);
        Assert.InRange(evaluation.Difference.Lower, 0.02, 0.0524);
        Assert.InRange(evaluation.Difference.Upper, 0.3339, 0.36);
        Assert.Equal(0.6, evaluation.BeforeEstimate!.Value, 1e-12);
        Assert.Equal(0.8, evaluation.AfterEstimate!.Value, 1e-12);
    }

    [Theory]
    [InlineData(Direction.Up, EvaluationState.AsExpected)]
    [InlineData(Direction.Down, EvaluationState.Against)]
    [InlineData(Direction.None, EvaluationState.Against)]
    public void What_was_expected_decides_what_a_rise_means(Direction expect, EvaluationState state)
    {
        var change = new DeclaredChange(First.AddMonths(12).FirstDay, "New checklist", ["event"], expect, NewPhase: false, "");
        var department = Department(24, month => new(month < 12 ? 2 : 8, 20, 0));
        Assert.Equal(state, Evaluate(department, change).State);
        Assert.Equal(EvaluationState.Waiting, Evaluate(department, change with { Plan = new(24, null) }).State);
        Assert.Equal(EvaluationState.Waiting, Evaluate(department, change with { Plan = new(24, 241) }).State);
        Assert.Equal((state, First.AddMonths(14)), (Evaluate(department, change with { Plan = new(24, 60) }) is var soon
            ? (soon.State, soon.Due) : default));
        Assert.Equal(EvaluationState.TooFew, Evaluate(Department(24, _ => new(1, 3, 0)), change).State);
        Assert.Equal(EvaluationState.Unclear, Evaluate(Department(24, _ => new(2, 20, 0)), change).State);
    }

    // A later phase is another way of working: the evaluation is made with what lies before it.
    [Fact]
    public void A_later_phase_ends_the_months_that_are_compared()
    {
        var change = new DeclaredChange(First.AddMonths(12).FirstDay, "New checklist", ["event"], Direction.Down, NewPhase: false, "");
        var phase = change with { Date = First.AddMonths(18).FirstDay, NewPhase = true };
        var department = Department(30, month => new(month < 12 ? 8 : month < 18 ? 2 : 12, 20, 0));
        var figures = Analyse.Department(department with { Plan = department.Plan with { Changes = [change, phase] } });
        Assert.Equal((First.AddMonths(17), EvaluationState.AsExpected, new Count(12, 120, 0)),
            (figures.Changes[0].Due, figures.Changes[0].State, figures.Changes[0].AfterCount));
    }

    private static ChangeEvaluation Evaluate(DepartmentCounts department, DeclaredChange change) =>
        Assert.Single(Analyse.Department(department with { Plan = department.Plan with { Changes = [change] } }).Changes);

    [Fact]
    public void Months_without_cases_are_gaps_of_the_series_and_not_left_out()
    {
        var figures = Analyse.Department(Department(12, month => month % 2 == 0 ? new(1, 10, 0) : default));
        Assert.Equal(12, figures.Measures[0].Series!.Counts.Length);
        Assert.Equal(default, figures.Measures[0].Series!.Counts[1]);
        Assert.Equal(12, figures.Procedures.Length);
    }

    [Fact]
    public void A_measure_without_counts_says_which_fields_are_lacking()
    {
        var department = Department(12, _ => default) with
        {
            Counts = new([], [new("event", "a.csv", ["spo2_min"]), new("event", "b.csv", ["age_years", "spo2_min"])], [], []),
        };
        Assert.Equal(["age_years", "spo2_min"], Analyse.Department(department).Measures[0].NotCollected!.Lacking);
        Assert.Empty(Analyse.Department(department with { Counts = new([], [], [], []) }).Measures[0].NotCollected!.Lacking);
    }

    [Fact]
    public void The_baseline_begins_the_series_where_it_lies_before_the_first_record()
    {
        var department = Department(12, _ => new(1, 10, 0));
        var earlier = department with { Plan = department.Plan with { Baseline = (First.AddMonths(-3), 12) } };
        Assert.Equal(First.AddMonths(-3), Analyse.Department(earlier).First);
        Assert.Equal(First, Analyse.Department(department).First);
    }

    [Fact]
    public void A_report_month_that_is_not_over_is_partial()
    {
        var department = Department(12, _ => new(1, 10, 0));
        Assert.False(Analyse.Department(department).Partial);
        Assert.True(Analyse.Department(department with { Plan = department.Plan with { AsOf = First.AddMonths(11).FirstDay } }).Partial);
    }

    [Fact]
    public void Small_levels_of_a_stratum_are_merged_and_the_sum_stays()
    {
        var department = Department(12, _ => new(4, 10, 0));
        ImmutableArray<CountRow> split =
        [
            .. department.Counts.Rows, Level("ward", new(1, 3, 0)), Level("theatre", new(0, 2, 0)), Level("ed", new(47, 115, 0)),
        ];
        var figures = Analyse.Department(department with
        {
            Plan = department.Plan with { Strata = ["location_type"] },
            Counts = department.Counts with { Rows = split },
        });
        var stratum = Assert.Single(figures.Measures[0].Strata);
        Assert.Equal(["ed", StratumFigures.Other], stratum.Levels.Select(level => level.Level));
        Assert.Equal(figures.Measures[0].Year, stratum.Levels.Aggregate(default(Count), (sum, level) => sum + level.Count));

        CountRow Level(string level, Count count) => new("event", First.AddMonths(11), "location_type", level, count);
    }

    // A level's dispersion is 1 + 9 ρ where it has ten cases a month, with ρ = (φ − 1)/19 of all twenty a month: by hand.
    [Fact]
    public void A_level_of_a_stratum_is_as_uncertain_as_all_months_make_it_and_the_plain_interval_stands_beside()
    {
        var department = Department(12, month => new(month % 2 == 0 ? 1 : 9, 20, 0));
        ImmutableArray<CountRow> Split(Func<int, int> night) =>
        [
            .. department.Counts.Rows,
            .. Enumerable.Range(0, 12).SelectMany(month => (CountRow[])
            [
                new("event", First.AddMonths(month), "hour_band", "night", new(night(month), 10, 0)),
                new("event", First.AddMonths(month), "hour_band", "day", new((month % 2 == 0 ? 1 : 9) - night(month), 10, 0)),
            ]),
        ];
        LevelFigures Night(Func<int, int> events) => Analyse.Department(department with
        {
            Plan = department.Plan with { Strata = ["hour_band"] },
            Counts = department.Counts with { Rows = Split(events) },
        }).Measures[0].Strata[0].Levels.Single(level => level.Level == "night");

        var found = Night(month => month % 2 == 0 ? 1 : 4);
        var pooled = 60.5 / 241;
        var (low, high) = (1 - (20 * pooled), 9 - (20 * pooled));
        var ratio = 6 * ((low * low) + (high * high)) / (20 * pooled * (1 - pooled)) / 11;
        var (phi, t) = (1 + (9 * (ratio - 1) / 19), 2.200985160082949);
        var (x, n) = (30 / phi, 120 / phi);
        var half = t * Math.Sqrt((x * (n - x) / n) + (t * t / 4)) / (n + (t * t));
        Assert.Equal(((x + (t * t / 2)) / (n + (t * t))) - half, found.Estimate!.Lower, 1e-9);
        Assert.Equal(((x + (t * t / 2)) / (n + (t * t))) + half, found.Estimate.Upper, 1e-9);
        Assert.Equal("wilson_months_of_all", found.Estimate.Method);
        Assert.True(VaryingMonths.IsWider(found.Estimate));
        // By R: prop.test(30, 120, correct = FALSE).
        Assert.Equal((0.1811, 0.3344, "wilson"), VaryingMonths.Plain(found.Estimate) is { } plain
            ? (Math.Round(plain.Lower, 4), Math.Round(plain.Upper, 4), plain.Method) : default);
        // A level whose own months happen to be alike is no surer for it.
        Assert.Equal(phi, Phi(Night(_ => 1).Estimate!), 1e-6);

        double Phi(Estimate estimate)
        {
            // The width of the interval gives the dispersion back.
            double a = 1, b = 10;
            for (var i = 0; i < 100; i++)
            {
                var middle = (a + b) / 2;
                var (events, cases) = (estimate.Count.Met / middle, estimate.Count.Eligible / middle);
                var width = 2 * t * Math.Sqrt((events * (cases - events) / cases) + (t * t / 4)) / (cases + (t * t));
                (a, b) = width < estimate.Upper - estimate.Lower ? (middle, b) : (a, middle);
            }
            return a;
        }
    }

    [Fact]
    public void The_same_counts_give_the_same_figures()
    {
        var department = Department(30, month => new(1 + (month % 4), 12, month % 2));
        var (one, two) = (Analyse.Department(department), Analyse.Department(department with { }));
        Assert.Equal(Drawn(one), Drawn(two));

        static string Drawn(Figures figures) =>
            string.Create(CultureInfo.InvariantCulture, $"{figures.Measures[0].YearEstimate} {figures.Measures[0].RunChart!.Chance:R} ")
                + string.Join(' ', figures.Measures[0].Points.Select(point => point.Value))
                + string.Join(' ', figures.Measures[0].Signal!.Sights);
    }

    private static DepartmentCounts Department(int months, Func<int, Count> counts)
    {
        var rows = Enumerable.Range(0, months)
            .Select(month => new CountRow("event", First.AddMonths(month), CountRow.All, CountRow.All, counts(month)))
            .Where(row => !row.Count.IsEmpty).ToImmutableArray();
        return new()
        {
            Plan = new()
            {
                Name = "harbour",
                Definitions = new(FieldDictionary.Shipped, [Event], [], [], ""),
                Month = First.AddMonths(months - 1),
                AsOf = First.AddMonths(months - 1).LastDay,
                Headline = ["event"],
            },
            Records = rows.Append(new("event", First, CountRow.All, CountRow.All, default)).GroupBy(row => row.Month)
                .ToDictionary(group => group.Key, group => group.Sum(row => row.Count.Eligible + row.Count.Missing)),
            Counts = new(rows, [], [], []),
        };
    }
}
