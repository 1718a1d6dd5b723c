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
        var said = Said(Model, Topic.Recorded)!;
        Assert.StartsWith($"{Model.Procedures[^1]} procedures were recorded in March 2026, {Model.Procedures.TakeLast(12).Sum()} in April "
            + $"2025 to March 2026", said, StringComparison.Ordinal);
        Assert.Contains("not known: there is no independent count", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(70, 100, "So many were not recorded")]
    [InlineData(95, 100, "")]
    [InlineData(104, 100, "one of the two is wrong")]
    public void Capture_is_told_with_its_counts_and_interval_and_what_follows_when_it_is_low_or_above_one(
        long records, long counted, string follows)
    {
        var ratio = new CaptureRatio(Model.YearFrom, Model.Month, "", records, counted, 12, "tubes issued");
        var said = Said(Model with { Capture = new("counts.csv", ratio, [], []) }, Topic.Recorded)!;
        // More records than counted are no share: an interval would mean nothing.
        var share = records > counted ? "" : Wilson.Interval(records, counted) is var bounds
            ? $" ({records * 100.0 / counted:0.0} %, {bounds.Lower * 100:0.0} to {bounds.Upper * 100:0.0} %)" : "";
        Assert.Contains($"{records} of {counted} were recorded{share}.", said, StringComparison.Ordinal);
        Assert.EndsWith(follows.Length == 0
            ? "%)."
            : follows + (records < counted ? " that the figures may describe only those that somebody remembered." : "."), said,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_first_year_says_that_it_does_not_test_yet_and_promises_nothing()
    {
        var young = Watched(Reading(ChangeState.TooFewToJudge), Reading(ChangeState.TooFewToJudge));
        Assert.Contains("does not test for change yet", Said(young, Topic.Changed), StringComparison.Ordinal);
        Assert.Null(Said(young, Topic.CannotTell));
    }

    [Fact]
    public void Quiet_measures_are_counted_and_the_least_that_would_be_noticed_is_told_in_the_same_breath()
    {
        Sight[] sights = [new(0.85, 0.7, 12, 0.72), new(0.85, 0.75, 12, 0.31)];
        var quiet = Watched(Reading(ChangeState.NoSignOfChange) with { Sights = [.. sights] }, Reading(ChangeState.NoSignOfChange),
            Reading(ChangeState.TooFewToJudge));
        Assert.Equal("Monthly test: none of 2 headline measures has crossed its limit for change.", Said(quiet, Topic.Changed));
        Assert.Equal("Monthly test: the one headline measure has not crossed its limit for change.",
            Said(Watched(Reading(ChangeState.NoSignOfChange)), Topic.Changed));
        Assert.Equal("Too few cases to judge systolic pressure below 90 mmHg.", Said(quiet, Topic.CannotTell));

        var all = Watched(Reading(ChangeState.NoSignOfChange) with { Sights = [.. sights] });
        Assert.Equal("At this volume a fall in first-pass success from 85 % to 75 % would be noticed within 12 months "
            + "about 30 times in 100.",
            Said(all, Topic.CannotTell));
    }

    [Theory]
    [InlineData(true, "lower")]
    [InlineData(false, "higher")]
    public void A_signal_names_the_measure_the_way_and_the_months_and_how_many_are_quiet(bool worse, string way)
    {
        var model = Watched(Reading(ChangeState.ChangeSignal, worse), Reading(ChangeState.NoSignOfChange));
        var said = Said(model, Topic.Changed)!;
        Assert.StartsWith($"First-pass success: change signal: it looks {way} since about June 2024 (May 2024 to July 2024 with 83.0 %).",
            said, StringComparison.Ordinal);
        Assert.EndsWith("The other headline measure has not crossed its limit for change.", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(EvaluationState.AsExpected, "That is more than chance; it does not prove the cause.")]
    [InlineData(EvaluationState.Against, "Chance does not easily explain it.")]
    [InlineData(EvaluationState.Unclear, "fits: neither help nor harm is shown.")]
    [InlineData(EvaluationState.TooFew, "Too few cases to judge the change of 1 January 2025: 165 cases before, 215 cases after.")]
    [InlineData(EvaluationState.Waiting, "So far 190/215; 130/165 in the months before. No verdict yet.")]
    public void The_last_evaluated_change_is_told_in_the_sentence_of_its_section(EvaluationState state, string verdict)
    {
        var change = new DeclaredChange(new DateOnly(2025, 1, 1), "A checklist by every bed", ["first_pass"], Direction.Up,
            false, "It was missing.");
        var evaluation = new ChangeEvaluation(change, Model.Measures[0].Measure, state, (new(2024, 1), new(2024, 12)),
            (new(2025, 1), new(2025, 12)), new(130, 165, 0), new(190, 215, 0), new(2025, 12),
            state is EvaluationState.Waiting or EvaluationState.TooFew ? null : new(0.096, 0.02, 0.17, new(1, 22)));
        var said = Said(Model with { Changes = [evaluation] }, Topic.Helped)!;
        Assert.StartsWith("A checklist by every bed: ", said, StringComparison.Ordinal);
        Assert.EndsWith(verdict, said, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("because", said, StringComparison.Ordinal);
        Assert.DoesNotContain("improve", said, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(state is not (EvaluationState.Waiting or EvaluationState.TooFew),
            said.Contains("percentage points", StringComparison.Ordinal) || said.Contains("points fits", StringComparison.Ordinal));

        // One that waits does not push out one that was evaluated.
        var waiting = evaluation with { State = EvaluationState.Waiting, Change = change with { What = "Later" }, Difference = null };
        Assert.Equal(state == EvaluationState.Waiting ? "Later" : "A checklist by every bed",
            Said(Model with { Changes = [evaluation, waiting] }, Topic.Helped)![..(state == EvaluationState.Waiting ? 5 : 24)]);
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
    public void There_are_between_two_and_five_of_them_each_on_a_topic_of_its_own()
    {
        var statements = FirstPageWording.Of(Model);
        Assert.InRange(statements.Length, 2, 5);
        Assert.Equal(statements.Length, statements.Select(each => each.Topic).Distinct().Count());
    }

    // No number is said that the model does not hold: change every number and every number said changes with it.
    [Fact]
    public void Twice_the_procedures_are_twice_the_numbers()
    {
        var doubled = Model with { Procedures = [.. Model.Procedures.Select(n => n * 2)] };
        var (once, twice) = (Numbers(Said(Model, Topic.Recorded)!), Numbers(Said(doubled, Topic.Recorded)!));
        Assert.Equal(once.Select(n => n * 2), twice);
    }

    [Fact]
    public void Behind_it_a_watched_measure_says_which_of_its_two_answers_decides()
    {
        const string decides = "Monthly test, which decides: no sign of change.";
        string Page(Figures model) => System.Text.Encoding.UTF8.GetString(Outcomes.Reporting.Page.Report.Utf8(model, []));
        Assert.Contains(decides, Page(Watched(Reading(ChangeState.NoSignOfChange))), StringComparison.Ordinal);
        Assert.DoesNotContain("which decides", Page(Model), StringComparison.Ordinal);
    }

    private static string? Said(Figures model, Topic topic) =>
        FirstPageWording.Of(model).SingleOrDefault(each => each.Topic == topic)?.Text.Replace(Wording.Space, " ", StringComparison.Ordinal);

    private static long[] Numbers(string text) =>
        [.. Figure().Matches(Year().Replace(text, "")).Select(match => long.Parse(match.Value, CultureInfo.InvariantCulture))];

    private static Figures Watched(params MeasureSignal[] signals) =>
        Model with
        {
            Measures = [.. Model.Measures.Select((measure, i) => i < signals.Length ? measure with { Signal = signals[i] } : measure)]
        };

    private static MeasureSignal Reading(ChangeState state, bool worse = true)
    {
        var change = state == ChangeState.ChangeSignal ? new Change(4, worse, new ChangeStart(2, 1, 3, 0.83), null, null) : null;
        var reading = new ChangeReading(state, 12, new Count(120, 150, 0), 3, [], change, 0.01);
        return new([new(Samples.First, Samples.First.AddMonths(12), reading)], 0.01, null);
    }

    [GeneratedRegex(@"\d+")]
    private static partial Regex Figure();

    [GeneratedRegex(@"[A-Z][a-z]+ \d{4}")]
    private static partial Regex Year();
}
