using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>What a sentence of the first page is about.</summary>
public enum Topic
{
    /// <summary>What changed and what did not.</summary>
    Changed,

    /// <summary>What these numbers cannot tell, and why.</summary>
    CannotTell,

    /// <summary>The last declared change.</summary>
    Helped,

    /// <summary>New cases to review, and the actions of earlier meetings.</summary>
    Review,

    /// <summary>What is missing most.</summary>
    Missing,
}

/// <summary>A sentence or two on one topic.</summary>
public sealed record Statement(Topic Topic, string Text);

/// <summary>
/// The three to five statements of the first page: what changed, what cannot be seen at this volume, what to do next. Each is made from the
/// model's numbers by a rule and says nothing that they do not: no cause, no praise, no blame.
/// </summary>
public static class FirstPageWording
{
    private const int Most = 5;

    // More verdicts of change than this stand in the table alone.
    private const int MostSaid = 2;

    /// <summary>In the order of printing.</summary>
    public static ImmutableArray<Statement> Of(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        ImmutableArray<Verdict> verdicts =
            [.. model.Measures.Where(measure => measure.Headline).Select(measure => measure.Verdict).OfType<Verdict>()
                .Where(verdict => verdict.Reason != VerdictReason.NotAsked)];
        return
        [
            .. new Statement?[]
            {
                new(Topic.Changed, Changed(model, verdicts)), CannotTell(verdicts), Helped(verdicts), Review(model), Missing(model),
            }.OfType<Statement>().Take(Most),
        ];
    }

    /// <summary>How many procedures, and whether that is all of them.</summary>
    public static string Recorded(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        var month = model.ProceduresIn(model.Month, model.Month);
        var text = $"{Wording.Some(month, "procedure")} in {Wording.Name(model.Month)}"
            + (model.YearFrom == model.Month
                ? "."
                : $", {Wording.Number(model.ProceduresIn(model.YearFrom, model.Month))} in {Wording.Span(model.YearFrom, model.Month)}.");
        if (DataWording.Provisional(model.Provisional) is { Length: > 0 } provisional)
            text += " " + provisional;
        return $"{text} {DataWording.Captured(model)}";
    }

    // What changed in the words of its verdict, and how many headline measures show no sign of it.
    private static string Changed(Figures model, ImmutableArray<Verdict> verdicts)
    {
        var tested = model.Measures.Where(measure => measure.Signal is not null).Select(measure => measure.Verdict!).ToList();
        Verdict[] changed = [.. verdicts.Where(verdict => verdict.SaysChange || verdict.Label == VerdictLabel.NotShown)];
        var said = changed.Take(MostSaid).SelectMany(verdict =>
            new[] { VerdictWording.Sentence(verdict), VerdictWording.Caution(verdict, model.Titles) });
        var more = changed.Length > MostSaid ? $"The table names {Wording.Some(changed.Length - MostSaid, "other verdict")}." : "";
        var quiet = tested.Count(verdict => verdict.Label == VerdictLabel.NoSignOfChange);
        var text = string.Join(' ', said.Append(more).Append(Quiet(quiet, changed.Length > 0)).Where(part => part.Length > 0));
        return text.Length > 0 ? text
            : tested.Count == 0 ? "This report tests no measure for change."
            : "This report does not test for change yet. A measure needs 12 months with 40 eligible cases first.";
    }

    private static string Quiet(int measures, bool others) => (measures, others) switch
    {
        (0, _) => "",
        (1, true) => "One other headline measure shows no sign of change.",
        (1, false) => "One headline measure is tested, and shows no sign of change.",
        (_, true) => $"{Wording.Spelled(measures, sentence: true)} other headline measures show no sign of change.",
        _ => $"None of the {Wording.Spelled(measures, sentence: false)} headline measures tested shows any sign of change.",
    };

    /// <summary>Too few cases first; else what would be noticed of the first quiet measure.</summary>
    private static Statement? CannotTell(ImmutableArray<Verdict> verdicts)
    {
        var few = verdicts.Where(verdict => verdict.Label == VerdictLabel.TooFewToJudge).ToList();
        if (few.Count > 0 && few.Count < verdicts.Length)
            return new(Topic.CannotTell, $"Too few cases to judge {Titles(few)}.");
        return verdicts.FirstOrDefault(verdict => verdict is { Label: VerdictLabel.NoSignOfChange, Noticed: not null }) is { } quiet
            ? new(Topic.CannotTell, VerdictWording.NoticedByName(quiet)) : null;
    }

    // A declared change that still waits for its evaluation: one that is evaluated stands among the changes above.
    private static Statement? Helped(ImmutableArray<Verdict> verdicts) =>
        verdicts.Select(verdict => verdict.Evaluation).FirstOrDefault(each => each is { State: EvaluationState.Waiting }) is { } waiting
            ? new(Topic.Helped, $"{waiting.Change.What}: {Readable.WithinSentence(ChangeWording.Say(waiting))}") : null;

    private static string Titles(IEnumerable<Verdict> verdicts) => Listed(verdicts.Select(verdict => verdict.Measure.Title));

    /// <summary>Counts by tier and never by event: what happened in a case stands in the pack alone.</summary>
    private static Statement? Review(Figures model)
    {
        var tiers = model.Review.Where(count => count.Kind is CaseKind.One or CaseKind.Two).ToList();
        if (tiers.Count == 0 && model.Actions.IsEmpty)
            return null;
        var cases = tiers.Sum(count => count.Cases) == 0 ? "No new case of tier 1 or 2 is to be reviewed."
            : "New to review: " + string.Join(" and ", tiers.Where(count => count.Cases > 0)
                .Select(count => $"{Wording.Some(count.Cases, "case")} of {Readable.WithinSentence(CaseWording.Name(count.Kind))}"))
              + (tiers.Sum(count => count.Late) is > 0 and var late
                  ? $", {Wording.Number(late)} of them from earlier months, entered or changed late."
                  : ".");
        return new(Topic.Review,
            string.Join(" ", new[] { tiers.Count == 0 ? "" : cases, model.Actions.IsEmpty ? "" : ActionWording.Sentence(model.Actions) }
                .Where(part => part.Length > 0)));
    }

    private static Statement? Missing(Figures model)
    {
        if (model.Questions.IsEmpty)
            return null;
        var worst = model.Questions[0];
        return new(Topic.Missing, worst.Columns.IsEmpty
            ? $"Largest data gap: {Readable.WithinSentence(worst.Title)}, which no source collects."
            : $"Largest data gap: {Readable.WithinSentence(worst.Title)}, missing in {worst.WhatIsMissing()} records of "
                + $"the last 12 months.");
    }

    /// <summary>Titles inside a sentence.</summary>
    internal static string Listed(IEnumerable<string> titles)
    {
        var all = titles.Select(Readable.WithinSentence).ToList();
        return all.Count == 1 ? all[0] : $"{string.Join(", ", all.Take(all.Count - 1))} and {all[^1]}";
    }
}
