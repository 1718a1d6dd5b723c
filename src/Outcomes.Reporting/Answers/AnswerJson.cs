using System.Globalization;
using System.Text.Json;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Answers;

/// <summary>An answer as JSON for machines: the whole period of each cohort, its bounds, and the comparison.</summary>
public static class AnswerJson
{
    public static void Write(Stream to, AnswerView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        using var json = new Utf8JsonWriter(to, new JsonWriterOptions { Indented = true });
        var answer = view.Answer;
        json.WriteStartObject();
        json.WriteString("question", QuestionText.Query(answer.Asked.Settled));
        json.WriteString("definitions_sha256", view.Report.DefinitionsHash);
        json.WriteStartArray("cohorts");
        foreach (var (name, cohort) in AnswerTable.Cohorts(answer))
            Cohort(json, name, cohort);
        json.WriteEndArray();
        if (answer.Comparison is { } comparison)
            Comparison(json, comparison);
        if (answer.Needed is { } needed)
            json.WriteNumber("records_needed_per_group", needed.PerGroup);
        json.WriteEndObject();
        json.Flush();
    }

    private static void Cohort(Utf8JsonWriter json, string name, CohortFigures cohort)
    {
        json.WriteStartObject();
        json.WriteString("cohort", name);
        json.WriteString("condition", cohort.Cohort.Text);
        json.WriteString("period", $"{cohort.Cohort.From}/{cohort.Cohort.To}");
        if (cohort.IsTooFew)
        {
            json.WriteString("withheld", AnswerWording.TooFew);
        }
        else if (cohort.Figures.Measure.Kind == MeasureKind.Proportion)
        {
            Count(json, cohort.Figures.Year);
            Interval(json, "value", cohort.Figures.YearEstimate?.Value, cohort.Figures.YearEstimate?.Lower,
                cohort.Figures.YearEstimate?.Upper);
            if (cohort.Figures.YearBounds is { } bounds)
                Interval(json, null, null, bounds.Lower, bounds.Upper, "if_missing_");
        }
        else
        {
            json.WriteNumber("n", cohort.Figures.YearQuantity?.N ?? 0);
            json.WriteNumber("missing", cohort.Figures.YearWithoutValue);
            Interval(json, "median", cohort.Figures.YearQuantity?.Median, cohort.Figures.YearQuantity?.Estimates[1].Lower,
                cohort.Figures.YearQuantity?.Estimates[1].Upper);
        }

        json.WriteEndObject();
    }

    private static void Comparison(Utf8JsonWriter json, CohortComparison comparison)
    {
        json.WriteStartObject("comparison");
        json.WriteNumber("shared", comparison.Shared);
        if (comparison.Difference is { } difference)
        {
            json.WriteString("method", difference.Method);
            Interval(json, "difference", difference.Value, difference.Lower, difference.Upper);
        }

        if (comparison.OddsRatio is { } ratio)
            Interval(json, "odds_ratio", ratio.Value, ratio.Lower, ratio.Upper, "odds_ratio_");
        json.WriteEndObject();
    }

    private static void Count(Utf8JsonWriter json, Count count)
    {
        json.WriteNumber("met", count.Met);
        json.WriteNumber("eligible", count.Eligible);
        json.WriteNumber("missing", count.Missing);
    }

    private static void Interval(Utf8JsonWriter json, string? name, double? value, double? lower, double? upper, string prefix = "")
    {
        if (name is not null) Number(json, name, value);
        Number(json, prefix + "lower", lower);
        Number(json, prefix + "upper", upper);
    }

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        json.WritePropertyName(name);
        if (value is { } number && double.IsFinite(number))
            json.WriteRawValue((number + 0.0).ToString("G12", CultureInfo.InvariantCulture));
        else
            json.WriteNullValue();
    }
}
