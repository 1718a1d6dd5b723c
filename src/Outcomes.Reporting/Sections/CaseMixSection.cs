using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Measures against what is expected for their case mix.</summary>
internal static class CaseMixSection
{
    public const string Id = "casemix";

    private static readonly TableColumn[] Terms =
        ["Given", TableColumn.Num("Events / records"), TableColumn.Num("Odds ratio"), TableColumn.Num("95 % interval")];

    private static readonly TableColumn[] Ratios =
        [
            "Months", TableColumn.Num("Records"), TableColumn.Num("Observed"), TableColumn.Num("Expected"), TableColumn.Num("Ratio"),
            TableColumn.Num("95 % interval")
        ];

    private static readonly TableColumn[] Groups =
        [TableColumn.Num("Expected"), TableColumn.Num("n/N"), TableColumn.Num("Observed"), TableColumn.Num("95 % interval")];

    public static void Write(Html html, Figures model)
    {
        if (model.CaseMix.IsEmpty)
            return;
        html.Add($"""
            <section aria-labelledby="casemix"><h2 id="casemix">Case mix</h2>
            <p>How many events the patients of a period would have had if each had fared as like patients did in the baseline. It is for the question “are our patients
            different, or is something else?” and for no other: it compares no units and no persons, and predicts nothing for a patient.</p>

            """);
        foreach (var report in model.CaseMix)
            Measure(html, model, report);
        html.Add($"""
            <p><strong>What it cannot adjust for.</strong> What was not recorded, or recorded differently as time went on; how ill patients were beyond the
            fields above; the device, the hour and the operator, which are left out on purpose, since they are part of the care that is judged. A ratio above
            1{Wording.Space}is a question to look into, never an answer. The intervals of ratios include the model’s own error. Odds ratios come from a ridge
            model, which draws them a little towards{Wording.Space}1; their intervals describe the model and test nothing.</p></section>

            """);
    }

    private static void Measure(Html html, Figures model, CaseMixFigures report)
    {
        var slug = "cm-" + Encode.Slug(report.Measure.Id);
        html.Add($"""
            <h3>{report.Measure.Title}</h3>
            <p>The event is that the measure was <strong>{(report.EventIsNotMet ? "not met" : "met")}</strong>, so that a ratio above{Wording.Space}1 means more harm or less success than expected.
            Baseline: {Wording.Span(report.From, report.To)}, {Wording.Some(report.Records, "judged record")}, {Wording.Some(report.Events, "event")}{(report.Missing > 0 ? $"; {Wording.Some(report.Missing, "record")} could not be judged and are not in it" : "")}.</p>
            """);
        if (report.Figures is not { } figures)
            Refused(html, report);
        else
            Fitted(html, model, report, figures, slug);
        if (!report.Omitted.IsEmpty)
            html.Add($"<p>Not adjusted for: {string.Join("; ", NotAdjusted(model, report))}.</p>\n");
    }

    private static IEnumerable<string> NotAdjusted(Figures model, CaseMixFigures report) => report.Omitted
        .GroupBy(omission => omission.Why)
        .Select(group => $"{Why(group.Key)}: {string.Join(", ", group.Select(omission => Omission(model, omission)))}");

    private static void Refused(Html html, CaseMixFigures report) => html.Add($"""
        <p><strong>No model.</strong> {(report.Refused is var (columns, needed, events) && columns > 0
            ? $"{Wording.Some(columns, "column")} of case mix would need {Wording.Number(needed)} events (or records without one, if these are rarer), and the records with these fields have {Wording.Number(events)}"
            : "No field of the case mix varies")}. At least 15, and three for each coefficient, are needed. Read the strata instead.</p>

        """);

    private static void Fitted(Html html, Figures model, CaseMixFigures report, FittedModel figures, string slug)
    {
        Table.Write(html, slug + "-or", $"Odds ratios of the event, {Wording.Span(report.From, report.To)}", Terms, () =>
        {
            foreach (var term in figures.Terms)
                Table.Row(html, Terms, term.Level is null
                    ? $"{model.Titles.Column(term.Field)}, for each unit more"
                    : $"{model.Titles.Column(term.Field)}: {Level(model, term.Field, term.Level)}"
                        + $"{(term.Reference is null ? "" : $" against {Level(model, term.Field, term.Reference)}")}",
                    $"{Wording.Number(term.Events)}/{Wording.Number(term.Records)}", Ratio(term.OddsRatio), Range(term.Interval));
        });
        foreach (var field in figures.Fields.Where(field => field.Missing > 0 || !field.Pooled.IsEmpty || field.Unseen > 0))
            html.Add($"<p>{model.Titles.Column(field.Field)}: {string.Join("; ", Notes(model, field))}.</p>\n");
        html.Add($"""
            <p>{Missing(report, figures)}</p>
            <p>On records kept out of the fit (five folds): area under the ROC curve {Two(figures.Auc.Value)} ({Two(figures.Auc.Interval.Lower)} to {Two(figures.Auc.Interval.Upper)}; 0.5 is a coin,
            1 is perfect; {Two(figures.ApparentAuc)} on the records fitted){Calibration(figures)}; Brier score {Three(figures.Brier)} against {Three(figures.BrierOfMean)} for the mean alone.</p>
            """);
        if (report.Challenger is { } other)
            html.Add($"<p>An additive model on the same columns and folds, for comparison only: "
                + $"area {Two(other.Additive.Auc.Value)} against {Two(other.Logistic.Auc.Value)}, "
                + $"Brier score {Three(other.Additive.Brier)} against {Three(other.Logistic.Brier)}. "
                + $"It adjusts nothing; all of it is in <code>tables/challenger.csv</code>.</p>\n");
        if (figures.Auc.Value < Verdicts.ModelPartialBelow)
            html.Add($"<p><strong>The model knows these patients only in part (AUC {Two(figures.Auc.Value)}).</strong></p>\n");
        else if (figures.Brier >= figures.BrierOfMean)
            html.Add($"<p><strong>These fields do not predict the event better than the mean does:</strong> adjusting by them changes "
                + $"little, and little can be read from it.</p>\n");
        html.Add($"""<details class="more"><summary>Calibration, group by group</summary>""");
        Table.Write(html, slug + "-cal", "Expected and observed among records of like chance, kept out of the fit", Groups, () =>
        {
            foreach (var group in figures.Groups)
                Table.Row(html, Groups, Wording.Chance(group.Expected), Wording.Fraction(group.Observed.Count),
                    Wording.Chance(group.Observed.Value), Wording.Range(group.Observed.Lower, group.Observed.Upper, 100));
        });
        html.Add($"</details>");
        Table.Write(html, slug + "-oe", "Observed against expected", Ratios, () =>
        {
            foreach (var row in (report.Year is { } year ? [year] : Array.Empty<ObservedExpected>()).Concat(report.Sites)
                .Concat(report.Months.TakeLast(12)))
                Table.Row(html, Ratios, Wording.Span(row.From, row.To) + (row.Site is null ? "" : $", {row.Site}"),
                    Wording.Number(row.Records), Wording.Number(row.Observed), Ratio(row.Expected), row.Ratio is null
                        ? ""
                        : Ratio(row.Ratio.Value), row.Ratio is null ? "" : Range(row.Ratio.Interval));
        });
        html.Add($"<p>Every month and the running sum: <code>tables/expected.csv</code>.</p>\n");
    }

    private static string Missing(CaseMixFigures report, FittedModel figures) =>
        (figures.FullRecords == report.Records ? "Every record of the baseline has all these fields."
            : $"The odds ratios rest on the {Wording.Some(figures.FullRecords, "record")} of the baseline with all these fields. "
                + "A record that lacks a field gets its expected chance from the same model without that field.")
        + (figures.MeanRecords == 0 ? ""
            : $" For {Wording.Some(figures.MeanRecords, "record")}, which lack a combination of fields that fewer than ten records of "
                + "the baseline lack, the baseline’s mean is expected.");

    private static IEnumerable<string> Notes(Figures model, CaseMixField field)
    {
        if (field.Missing > 0)
            yield return $"not recorded in {Wording.Some(field.Missing, "record")} of the baseline";
        if (!field.Pooled.IsEmpty)
            yield return $"{string.Join(", ", field.Pooled.Select(level => Level(model, field.Field, level)))} "
                + $"pooled {(field.PooledIsReference ? "into the reference" : "as “other”")}, since each has fewer than ten records, "
                + $"or all or none of them had the event";
        if (field.Unseen > 0)
            yield return $"{Wording.Some(field.Unseen, "later record")} with a level that the baseline never had";
    }

    private static string Omission(Figures model, CaseMixOmission omission) => model.Titles.Column(omission.Field)
        + (omission.Level is null ? "" : $" ({Level(model, omission.Field, omission.Level)})");

    private static string Level(Figures model, string field, string level) => Readable.WithinSentence(model.Titles.Level(field, level));

    private static string Why(OmittedBecause why) => why switch
    {
        OmittedBecause.NotCollected => "not collected",
        OmittedBecause.TooFewEvents => "too few events for",
        OmittedBecause.SeldomRecorded => "too seldom recorded",
        OmittedBecause.NoVariation => "alike in nearly all records",
        _ => "nothing that the others do not say",
    };

    private static string Calibration(FittedModel figures) => (figures.Intercept, figures.Slope) is ({ } intercept, { } slope)
        ? $"; calibration intercept {Two(intercept.Value)} ({Two(intercept.Interval.Lower)} to {Two(intercept.Interval.Upper)}; "
            + $"0 is right), slope {Two(slope.Value)} ({Two(slope.Interval.Lower)} to {Two(slope.Interval.Upper)}; 1 is right)"
        : "; calibration could not be judged";

    // Odds ratios and expected numbers: two decimals, more where they are small.
    private static string Ratio(double value) =>
        value is > 0 and < 0.0005 ? "<0.001" : value.ToString(value is > 0 and < 0.1 ? "0.000" : "0.00", CultureInfo.InvariantCulture);

    private static string Range(Bounds interval) => $"{Ratio(interval.Lower)}{Wording.Space}to{Wording.Space}{Ratio(interval.Upper)}";

    // A value that rounds to nothing has no sign.
    private static string Two(double value) =>
        Math.Round(value, 2) is var rounded && rounded == 0 ? "0.00" : rounded.ToString("0.00;−0.00", CultureInfo.InvariantCulture);

    private static string Three(double value) => value.ToString("0.000", CultureInfo.InvariantCulture);
}
