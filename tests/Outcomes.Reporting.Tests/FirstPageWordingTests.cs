using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Reporting;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting;

/// <summary>Every statement of the first page comes from numbers of the model by a rule, and says no more than they do.</summary>
public partial class FirstPageWordingTests
{
    private static readonly Figures Model = Samples.Model();

    [Fact]
    public void The_largest_data_gap_is_told_by_its_counts()
    {
        DataQuestion gap = new("sbp_min", "Lowest systolic pressure", 15, 120, null, ["SBP low"], 0, []);
        var model = Model with { Review = [], Changes = [], Questions = [gap] };
        Assert.Equal("Largest data gap: lowest systolic pressure, missing in 15/120 records of the last 12 months.",
            Said(model, Topic.Missing));
        Assert.Equal("Largest data gap: lowest systolic pressure, which no source collects.",
            Said(model with { Questions = [gap with { Columns = [] }] }, Topic.Missing));
    }

    [Fact]
    public void Procedures_of_the_month_and_of_twelve_months_are_those_of_the_model()
    {
        var said = Plain(FirstPageWording.Recorded(Model));
        Assert.StartsWith($"{Model.Procedures[^1]} procedures in March 2026, {Model.Procedures.TakeLast(12).Sum()} in April "
            + $"2025 to March 2026.", said, StringComparison.Ordinal);
        Assert.Contains("not known: there is no independent count", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(70, 100, "The figures may describe only the procedures that somebody remembered.")]
    [InlineData(95, 100, "")]
    [InlineData(104, 100, "More were recorded than counted: one of the two is wrong.")]
    public void Capture_is_told_with_its_counts_and_interval_and_what_follows_when_it_is_low_or_above_one(
        long records, long counted, string follows)
    {
        var ratio = new CaptureRatio(Model.YearFrom, Model.Month, "", records, counted, 12, "tubes issued");
        var said = Plain(FirstPageWording.Recorded(Model with { Capture = new("counts.csv", ratio, [], []) }));
        // More records than counted are no share: an interval would mean nothing.
        var share = records > counted ? "" : Wilson.Interval(records, counted) is var bounds
            ? $" ({records * 100.0 / counted:0.0} %; {bounds.Lower * 100:0.0} to {bounds.Upper * 100:0.0} %)" : "";
        Assert.Contains($"{records} of {counted} procedures counted independently were recorded{share}.", said, StringComparison.Ordinal);
        Assert.EndsWith(follows.Length == 0 ? "%)." : follows, said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_first_year_says_that_it_does_not_test_yet_and_promises_nothing()
    {
        var young = Judged(VerdictLabel.TooFewToJudge, VerdictLabel.TooFewToJudge);
        Assert.Contains("does not test for change yet", Said(young, Topic.Changed), StringComparison.Ordinal);
        Assert.Null(Said(young, Topic.CannotTell));
        Assert.Equal("This report tests no measure for change.", Said(Model, Topic.Changed));
    }

    [Fact]
    public void Quiet_measures_are_counted_and_what_would_be_noticed_of_the_first_is_told()
    {
        var quiet = Judged(VerdictLabel.NoSignOfChange, VerdictLabel.NoSignOfChange, VerdictLabel.TooFewToJudge);
        Assert.Equal("None of the two headline measures tested shows any sign of change.", Said(quiet, Topic.Changed));
        Assert.Equal("Too few cases to judge systolic pressure below 90 mmHg.", Said(quiet, Topic.CannotTell));
        Assert.Equal("At this volume a fall in first-pass success to 75 % would be noticed within a year about 3 times in 10.",
            Said(Judged(VerdictLabel.NoSignOfChange), Topic.CannotTell));
    }

    [Theory]
    [InlineData(true, "worse")]
    [InlineData(false, "better")]
    public void A_change_is_told_in_the_sentence_of_its_verdict_and_the_quiet_ones_are_counted(bool worse, string way)
    {
        var model = Judged(worse ? VerdictLabel.Worse : VerdictLabel.Better, VerdictLabel.NoSignOfChange);
        var said = Said(model, Topic.Changed)!;
        Assert.StartsWith(Plain(VerdictWording.Sentence(model.Measures[0].Verdict!)), said, StringComparison.Ordinal);
        Assert.StartsWith($"First-pass success has probably got {way} since about June 2024", said, StringComparison.Ordinal);
        Assert.EndsWith("One other headline measure shows no sign of change.", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_that_waits_for_its_evaluation_is_told_by_counts_alone()
    {
        var change = new DeclaredChange(new DateOnly(2025, 1, 1), "A checklist by every bed", ["first_pass"], Direction.Up,
            false, "It was missing.");
        var evaluation = new ChangeEvaluation(change, Model.Measures[0].Measure, EvaluationState.Waiting, (new(2024, 1), new(2024, 12)),
            (new(2025, 1), new(2025, 12)), new(130, 165, 0), new(190, 215, 0), new(2026, 12), null);
        var model = Judged(VerdictLabel.NoSignOfChange);
        model = model with
        {
            Measures = [model.Measures[0] with { Verdict = model.Measures[0].Verdict! with { Evaluation = evaluation } },
                .. model.Measures[1..]],
        };
        Assert.Equal("A checklist by every bed: the change of 1 January 2025 will be evaluated once, with December 2026; 190/215 so far, "
            + "130/165 before.", Said(model, Topic.Helped));
        // One that is evaluated is among the changes already.
        Assert.Null(Said(Judged(VerdictLabel.Better), Topic.Helped));
    }

    [Fact]
    public void New_cases_are_counted_by_tier_and_overdue_actions_are_named()
    {
        ReviewCount[] counts = [new(CaseKind.One, 1), new(CaseKind.Two, 3), new(CaseKind.Three, 4), new(CaseKind.Drawn, 1)];
        Assert.Equal("New to review: 1 case of tier 1 and 3 cases of tier 2.", Said(Model with { Review = [.. counts] }, Topic.Review));
        Assert.Equal("New to review: 2 cases of tier 1, 1 of them from earlier months, entered or changed late.",
            Said(Model with { Review = [new(CaseKind.One, 2) { Late = 1 }, new(CaseKind.Two, 0)] }, Topic.Review));
        Assert.Equal("No new case of tier 1 or 2 is to be reviewed.",
            Said(Model with { Review = [new(CaseKind.One, 0), new(CaseKind.Two, 0), new(CaseKind.Three, 2)] }, Topic.Review));
        Assert.Null(Said(Model, Topic.Review));
    }

    [Fact]
    public void There_are_at_most_five_of_them_each_on_a_topic_of_its_own()
    {
        ReviewCount[] review = [new(CaseKind.One, 1)];
        var full = Judged(VerdictLabel.Worse, VerdictLabel.NoSignOfChange, VerdictLabel.TooFewToJudge) with
        {
            Review = [.. review],
            Questions = [new("sbp_min", "Lowest systolic pressure", 15, 120, null, ["SBP low"], 0, [])],
        };
        var statements = FirstPageWording.Of(full);
        Assert.InRange(statements.Length, 4, 5);
        Assert.Equal(statements.Length, statements.Select(each => each.Topic).Distinct().Count());
    }

    // No number is said that the model does not hold: change every number and every number said changes with it.
    [Fact]
    public void Twice_the_procedures_are_twice_the_numbers()
    {
        var doubled = Model with { Procedures = [.. Model.Procedures.Select(n => n * 2)] };
        var (once, twice) = (Numbers(FirstPageWording.Recorded(Model)), Numbers(FirstPageWording.Recorded(doubled)));
        Assert.Equal(once.Select(n => n * 2), twice);
    }

    private static string? Said(Figures model, Topic topic) =>
        FirstPageWording.Of(model).SingleOrDefault(each => each.Topic == topic)?.Text.Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static long[] Numbers(string text) =>
        [.. Figure().Matches(Year().Replace(Plain(text), "")).Select(match => long.Parse(match.Value, CultureInfo.InvariantCulture))];

    private static string Plain(string text) => text.Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static Figures Judged(params VerdictLabel[] labels) => Model with
    {
        Measures = [.. Model.Measures.Select((measure, i) => i < labels.Length
            ? measure with { Signal = new([], 0.01, null), Verdict = Verdict(measure, labels[i]) } : measure)],
    };

    private static Verdict Verdict(MeasureFigures measure, VerdictLabel label) => new()
    {
        Measure = measure.Measure,
        Label = label,
        Reason = label switch
        {
            VerdictLabel.TooFewToJudge => VerdictReason.ShortHistory,
            VerdictLabel.NoSignOfChange => VerdictReason.NoSignal,
            _ => VerdictReason.MonthlyTest,
        },
        Now = new(0.85, new(0.8, 0.9)),
        Noticed = label == VerdictLabel.NoSignOfChange ? new(0.85, 0.75, 12, 0.31) : null,
        Change = label is VerdictLabel.Worse or VerdictLabel.Better
            ? new(label == VerdictLabel.Worse, new(2024, 6), new(2024, 5), new(2024, 7), new(2024, 9), 0.8) : null,
        Caution = VerdictCaution.Exaggerates,
    };

    [GeneratedRegex(@"\d+")]
    private static partial Regex Figure();

    [GeneratedRegex(@"[A-Z][a-z]+ \d{4}")]
    private static partial Regex Year();
}
