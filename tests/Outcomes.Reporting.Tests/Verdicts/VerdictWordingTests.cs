using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting;

namespace Outcomes.Tests.Reporting;

/// <summary>Every sentence of the decision table, with its numbers.</summary>
public sealed class VerdictWordingTests
{
    private static readonly Measure Up = Samples.Definition("first_pass", "First-pass success", Direction.Up);

    private static readonly Measure Down = Samples.Definition("spo2_below_90", "Hypoxaemia", Direction.Down);

    private static readonly Verdict Quiet = new()
    {
        Measure = Up,
        Label = VerdictLabel.NoSignOfChange,
        Reason = VerdictReason.NoSignal,
        Year = new(150, 180, 2),
        Now = new(0.834, new(0.78, 0.88)),
        Noticed = new(0.834, 0.715, 12, 0.43),
    };

    private static readonly VerdictChange Fell = new(true, new(2025, 6), new(2025, 5), new(2025, 7), new(2025, 9), 0.85);

    private static readonly Verdict Worse = Quiet with
    {
        Label = VerdictLabel.Worse,
        Reason = VerdictReason.MonthlyTest,
        Change = Fell,
        Caution = VerdictCaution.Exaggerates,
    };

    private static readonly Verdict Better = Worse with { Label = VerdictLabel.Better, Change = Fell with { ForTheWorse = false } };

    [Fact]
    public void Quiet_tells_the_level_and_what_would_be_noticed()
    {
        Assert.Equal("No sign of change: now 83.4 % (78.0 to 88.0 %). A fall to 71.5 % would be noticed within a year about 4 times in 10.",
            Sentence(Quiet));
        Assert.Equal(
            "No sign of change: now 83.4 % (78.0 to 88.0 %). A rise to 71.5 % would be noticed within a year less than 1 time in 20.",
            Sentence(Quiet with { Measure = Down, Noticed = Quiet.Noticed! with { Noticed = 0.04 } }));
        Assert.EndsWith("about 1 time in 10.", Sentence(Quiet with { Noticed = Quiet.Noticed! with { Noticed = 0.1 } }),
            StringComparison.Ordinal);
        Assert.EndsWith("nearly always.", Sentence(Quiet with { Noticed = Quiet.Noticed! with { Noticed = 0.97 } }),
            StringComparison.Ordinal);
        Assert.Equal("No sign of change: now 83.4 % (78.0 to 88.0 %).", Sentence(Quiet with { Noticed = null }));
        Assert.Equal("At this volume a fall in first-pass success to 71.5 % would be noticed within a year about 4 times in 10.",
            Plain(VerdictWording.NoticedByName(Quiet)));
        Assert.Equal("No sign of change", VerdictWording.Label(Quiet));
    }

    [Fact]
    public void A_change_tells_its_months_the_level_now_and_the_level_before()
    {
        Assert.Equal("First-pass success has probably got worse since about June 2025 (May 2025 to July 2025): now 83.4 % "
            + "(78.0 to 88.0 %), before 85.0 %.", Sentence(Worse));
        Assert.Contains("got worse again since", Sentence(Worse with { Reason = VerdictReason.Relapse }), StringComparison.Ordinal);
        Assert.StartsWith("First-pass success, adjusted for case mix, has probably got better since about June 2025 (",
            Sentence(Better with { IsAdjusted = true }), StringComparison.Ordinal);
        Assert.Equal("First-pass success has probably got better since about June 2025: now 83.4 % (78.0 to 88.0 %). "
            + "The planned evaluation alone left it open: +9.1 percentage points (−0.2 to +18.2).",
            Sentence(Better with { Reason = VerdictReason.BetterEvaluationOpen, Evaluation = Evaluation(0.0909, -0.002, 0.182) }));
        Assert.Equal("First-pass success has probably got worse since about June 2025: now 83.4 % (78.0 to 88.0 %), although the planned "
            + "evaluation with December 2025 found 190/215 (88.4 %).",
            Sentence(Worse with { Reason = VerdictReason.WorseDespiteEvaluation, Evaluation = Evaluation(0.09, 0.01, 0.18) }));
    }

    [Fact]
    public void Recording_that_changed_is_settled_before_an_improvement_is_told()
    {
        var check = Better with
        {
            Label = VerdictLabel.CheckRecording,
            Caution = VerdictCaution.CaptureFell,
            Capture = new(60, 100, 96, 100)
        };
        Assert.Equal("Better? Check recording", VerdictWording.Label(check));
        Assert.Equal("First-pass success looks better since about June 2025, but recording changed then. Settle that first; "
            + "until then nothing is shown. Only 60 of 100 procedures were recorded, 96 before: bad cases may be among the others.",
            Full(check));
        Assert.StartsWith("First-pass success was 190/215 (88.4 %) after the change of 1 January 2025, 130/165 (78.8 %) before, "
            + "but fewer procedures were recorded.",
            Sentence(check with { Reason = VerdictReason.Evaluation, Evaluation = Evaluation(0.09, 0.01, 0.18) }),
            StringComparison.Ordinal);
        Assert.Equal("Urgency was missing in 32 of 100, 8 before: case mix is no longer followed.", Plain(VerdictWording.Caution(check with
        {
            Caution = VerdictCaution.FieldMoved,
            Moved = new("urgency", new(2025, 9), 32, 100, 16, 200),
        }, Titles.Shipped)));
    }

    [Theory]
    [InlineData(0.096, 0.02, 0.17, Direction.Up,
        "First-pass success improved after the change of 1 January 2025: 190/215 (88.4 %), before 130/165 (78.8 %); +9.6 percentage points "
        + "(+2.0 to +17.0). Other causes are possible.")]
    [InlineData(-0.096, -0.17, -0.02, Direction.Up, "First-pass success got worse after the change of 1 January 2025: ")]
    [InlineData(0.02, -0.05, 0.09, Direction.Up,
        "First-pass success was 190/215 (88.4 %) after the change of 1 January 2025, 130/165 (78.8 %) before. Anything from −5.0 to +9.0 "
        + "points fits: neither help nor harm is shown.")]
    [InlineData(0.02, -0.05, 0.09, Direction.None,
        "First-pass success did not get clearly worse after the change of 1 January 2025: +2.0 percentage points (−5.0 to +9.0). Up to 5.0 "
        + "points worse is not excluded.")]
    public void An_evaluation_tells_its_interval_and_no_cause(double value, double lower, double upper, Direction expect, string said)
    {
        var evaluation = Evaluation(value, lower, upper);
        Assert.StartsWith(said, Sentence(Quiet with
        {
            Label = VerdictLabel.NotShown,
            Reason = VerdictReason.Evaluation,
            Evaluation = evaluation with { Change = evaluation.Change with { Expect = expect } },
        }), StringComparison.Ordinal);
    }

    [Fact]
    public void The_measures_of_one_change_share_their_chance_and_the_interval_names_its_level()
    {
        var evaluation = Evaluation(0.096, 0.02, 0.17);
        Assert.EndsWith("(+2.0 to +17.0, 97.5 % interval). Other causes are possible.", Plain(ChangeWording.Say(evaluation with
        {
            Difference = evaluation.Difference! with { Level = 0.975 },
        })), StringComparison.Ordinal);
        Assert.EndsWith("+9.6 percentage points (+2.0 to +17.0); the monthly test agrees.", Sentence(Better with
        {
            Label = VerdictLabel.BetterAfterChange,
            Reason = VerdictReason.EvaluationAndTest,
            Evaluation = evaluation,
        }), StringComparison.Ordinal);
    }

    [Fact]
    public void Before_its_month_an_evaluation_has_counts_and_nothing_else()
    {
        var waiting = Quiet with
        {
            Reason = VerdictReason.WaitingEvaluation,
            Evaluation = Evaluation(0, 0, 0) with { State = EvaluationState.Waiting, Difference = null },
        };
        Assert.Equal("No sign of change: now 83.4 % (78.0 to 88.0 %). The change of 1 January 2025 will be evaluated once, with "
            + "December 2025; 190/215 so far, 130/165 before.", Sentence(waiting));
        Assert.DoesNotContain("%", Sentence(waiting with { Label = VerdictLabel.NotTested }), StringComparison.Ordinal);
    }

    [Fact]
    public void Too_few_cases_are_counted_beside_the_least_that_are_needed()
    {
        var few = Quiet with
        {
            Label = VerdictLabel.TooFewToJudge,
            Reason = VerdictReason.ShortHistory,
            ShortHistory = (9, new(18, 31, 0))
        };
        Assert.Equal("Too few cases to judge: 31 in 9 months, where 12 months and 40 cases are the least.", Sentence(few));
        Assert.Equal("Too few cases to judge: 31 in 9 months since the phase that started in January 2025, where 12 months and 40 cases "
            + "are the least.", Sentence(few with { PhaseFrom = new Month(2025, 1) }));
        Assert.Equal("Too few cases to judge: 12 months with 40 cases have to lie behind it.",
            Sentence(few with { ShortHistory = (0, default) }));
    }

    [Fact]
    public void Rare_events_are_told_by_counts_and_compared_once_a_year()
    {
        var rare = Quiet with
        {
            Measure = Down,
            Label = VerdictLabel.TooRare,
            Reason = VerdictReason.RareEvents,
            Rare = new(new(2027, 3), (new(2025, 4), new(2026, 3)), new(2, 165, 0), new(3, 318, 0), 1, 0.002),
        };
        Assert.Equal("Too rare to test monthly: 2/165 in April 2025 to March 2026, 3/318 before; no clear difference. Compared once a "
            + "year, next with March 2027.", Sentence(rare));
        Assert.Equal("Too rare to test monthly: 3/318 in the history. Compared once a year, first with March 2026.", Sentence(rare with
        {
            Rare = new(new(2026, 3), null, default, new(3, 318, 0), null, 0.002),
        }));
        Assert.Equal("Hypoxaemia was 12/165 (7.3 %) in April 2025 to March 2026, 3/318 (0.9 %) before (p < 0.001, compared once a year). "
            + "Other causes are possible.", Sentence(rare with
            {
                Label = VerdictLabel.Worse,
                Reason = VerdictReason.YearlyComparison,
                Rare = rare.Rare! with { YearCount = new(12, 165, 0), P = 0.0004 },
            }));
    }

    [Fact]
    public void Cautions_carry_the_numbers_that_they_rest_on()
    {
        Assert.Equal("The unadjusted counts would say otherwise: 36/60, where 37.5 would be usual for these patients.",
            Caution(Worse with { Caution = VerdictCaution.CountsDiffer, Mix = new(new(36, 60, 0), 44.9, 37.5) }));
        Assert.Equal("The case-mix model knows these patients only in part (AUC 0.57).",
            Caution(Worse with { Caution = VerdictCaution.ModelPartial, Auc = 0.567 }));
        Assert.Equal("The signal chose these months, so the rate exaggerates: later months will tell.", Caution(Worse));
        Assert.Equal("", Caution(Quiet));
    }

    [Fact]
    public void Missing_records_are_told_by_how_many_would_reverse_the_conclusion()
    {
        Assert.Equal("2 of the 9 missing records, if not met, would reverse this.",
            Plain(VerdictWording.Tipping(Better with { Tipping = new(2, 9, AreFailures: true) })));
        Assert.Equal("2 of the 9 missing records, if met, would reverse this.",
            Plain(VerdictWording.Tipping(Worse with { Tipping = new(2, 9, AreFailures: false) })));
        Assert.Equal("2 of the 9 missing records, if met, would reverse this.",
            Plain(VerdictWording.Tipping(Better with { Measure = Down, Tipping = new(2, 9, AreFailures: true) })));
        Assert.Equal("The one missing record would reverse this if it were not met.",
            Plain(VerdictWording.Tipping(Better with { Tipping = new(1, 1, AreFailures: true) })));
        Assert.Equal("All 3 missing records, if not met, would reverse this.",
            Plain(VerdictWording.Tipping(Better with { Tipping = new(3, 3, AreFailures: true) })));
    }

    [Fact]
    public void A_caption_does_not_say_its_label_twice()
    {
        Assert.StartsWith("No sign of change: now", VerdictWording.Caption(Quiet, Titles.Shipped), StringComparison.Ordinal);
        Assert.StartsWith("Worse. First-pass success has", VerdictWording.Caption(Worse, Titles.Shipped), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_label_reason_and_caution_has_words_of_its_own()
    {
        var labels = Enum.GetValues<VerdictLabel>();
        Assert.Equal(labels.Length, labels.Select(label => VerdictWording.Label(Quiet with { Label = label })).Distinct().Count());
        // A verdict with everything that a sentence can need.
        var all = Worse with
        {
            Evaluation = Evaluation(0.096, 0.02, 0.17),
            Rare = new(new(2027, 3), (new(2025, 4), new(2026, 3)), new(2, 165, 0), new(3, 318, 0), 1, 0.002),
            ShortHistory = (9, new(18, 31, 0)),
            Mix = new(new(36, 60, 0), 44.9, 37.5),
            Moved = new("urgency", new(2025, 9), 32, 100, 16, 200),
            Capture = new(60, 100, 96, 100),
            Auc = 0.5,
        };
        var reasons = Enum.GetValues<VerdictReason>();
        string[] sentences = [.. reasons.Select(reason => Sentence(all with { Reason = reason }))];
        Assert.Equal("", sentences[Array.IndexOf(reasons, VerdictReason.NotAsked)]);
        Assert.Equal(reasons.Length, sentences.Distinct().Count());
        string[] cautions = [.. Enum.GetValues<VerdictCaution>().Select(caution => Caution(all with { Caution = caution }))];
        Assert.Equal(cautions.Length, cautions.Distinct().Count());
        Assert.Single(cautions, caution => caution.Length == 0);
    }

    [Fact]
    public void Each_use_of_the_case_mix_is_named_once_for_its_measures()
    {
        MeasureFigures Of(Measure measure, MixUse use) => new() { Measure = measure, Signal = new([], 0, null) { Mix = use } };
        var said = CaseMixUseWording.Say([Of(Up, MixUse.Followed), Of(Down, MixUse.NoModel), Of(Down, MixUse.BaselineWatched),
            Of(Up, MixUse.FieldMoved), Of(Up, MixUse.NotAsked)]);
        Assert.StartsWith("Adjusted for case mix: first-pass success.", said, StringComparison.Ordinal);
        Assert.Contains("Not adjusted for case mix: hypoxaemia. There are too few events", said, StringComparison.Ordinal);
        Assert.Contains("Not adjusted for case mix: hypoxaemia. The model was fitted to months", said, StringComparison.Ordinal);
        Assert.Contains("No longer adjusted for case mix: first-pass success.", said, StringComparison.Ordinal);
        Assert.Equal("", CaseMixUseWording.Say([Of(Up, MixUse.NotAsked)]));
    }

    [Fact]
    public void False_statements_are_told_in_all_and_by_kind()
    {
        Assert.Equal("If nothing changed, this whole report would still make about 0.09 false statements of change a year (monthly tests "
            + "0.03, planned evaluations 0.05, yearly comparisons of rare events <0.01).",
            FalseStatementsWording.Say(new(0.0345, 0.05, 0.002)));
        Assert.Equal("If nothing changed, this whole report would still make about 0.00 false statements of change a year.",
            FalseStatementsWording.Say(new(0, 0, 0)));
    }

    private static ChangeEvaluation Evaluation(double value, double lower, double upper) => new(
        new(new DateOnly(2025, 1, 1), "A checklist by every bed", ["first_pass"], Direction.Up, NewPhase: false, "It was missing."), Up,
        EvaluationState.Unclear, (new(2024, 1), new(2024, 12)), (new(2025, 1), new(2025, 12)), new(130, 165, 0), new(190, 215, 0),
        new(2025, 12), new(value, lower, upper, new(1, 22), 0.95));

    private static string Sentence(Verdict verdict) => Plain(VerdictWording.Sentence(verdict));

    private static string Caution(Verdict verdict) => Plain(VerdictWording.Caution(verdict, Titles.Shipped));

    private static string Full(Verdict verdict) => Plain(VerdictWording.Full(verdict, Titles.Shipped));

    private static string Plain(string text) => text.Replace(Wording.Space, " ", StringComparison.Ordinal);
}
