using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>The form of a question. Conditions are chosen by field, comparison and value, and stand as text beside: both are one.</summary>
internal static class QuestionForm
{
    private static readonly (string Value, string Title)[] Comparisons =
    [
        ("=", "is"), ("<>", "is not"), (">=", "is at least"), ("<=", "is at most"), (">", "is above"), ("<", "is below"),
        ("is not null", "is recorded"), ("is null", "is not recorded"),
    ];

    private static readonly string[] Splits = ["First field", "Second field"], Comparing = ["versus", "versus_from", "versus_to", "points"];

    public static void Write(Html html, ExploreForm form)
    {
        html.Add($"""<form id="ask" method="get" action="/" aria-label="Question"><fieldset class="what"><legend>Ask</legend>""");
        FormField.Choice(html, "measure", "measure", "Measure or quantity", () =>
        {
            foreach (var group in MeasureGroups.Of(form.Measures.Select(measure => new MeasureFigures { Measure = measure })))
            {
                html.Add($"""<optgroup label="{MeasureGroups.Title(group.Key)}">""");
                foreach (var each in group)
                    FormField.Option(html, each.Measure.Id, each.Measure.Title, form["measure"]);
                html.Add($"</optgroup>");
            }
        }, "wide");
        FormField.Month(html, form, "from", "First month");
        FormField.Month(html, form, "to", "Last month");
        html.Add($"""<button class="main">Ask</button></fieldset>""");
        Cohort(html, form);
        Split(html, form);
        Compare(html, form);
        html.Add($"""<button class="main">Ask</button></form>""");
    }

    private static void Cohort(Html html, ExploreForm form)
    {
        html.Add($"""<fieldset class="cohort"><legend>Among</legend><ul id="parts" class="parts">""");
        foreach (var (at, part) in form.Parts.Index())
        {
            var words = AnswerWording.Part(part, form.Titles);
            html.Add($"""<li>{words} <button name="drop" value="{at.ToString()}" aria-label="Remove: {words}">Remove</button></li>""");
        }

        html.Add($"""</ul><div class="build">""");
        FormField.Choice(html, "field", "field", "Field", () =>
        {
            FormField.Option(html, "", "Choose a field", form["field"]);
            foreach (var (use, title) in form.Fields)
                FormField.Option(html, use.Name, title, form["field"]);
        });
        FormField.Choice(html, "comparison", "comparison", "Comparison", () =>
        {
            foreach (var (value, title) in Comparisons)
                FormField.Option(html, value, title, form["comparison"]);
        });
        FormField.Text(html, "value", "Value", form["value"], " list=\"values\"");
        html.Add($"""<datalist id="values">""");
        foreach (var (use, title) in form.Fields)
            foreach (var level in Levels(use))
                html.Add($"""<option value="{form.Titles.Level(use.Name, level)}" data-field="{use.Name}">{title}</option>""");
        html.Add($"""</datalist><button name="do" value="add">Add condition</button></div>""");
        FormField.Condition(html, form, "among", "Condition as text");
        html.Add($"</fieldset>");
    }

    private static void Split(Html html, ExploreForm form)
    {
        var chosen = form.Typed["by"].SelectMany(each => each.Split(',', StringSplitOptions.TrimEntries)).ToArray();
        html.Add($"""<fieldset class="split"><legend>Split by</legend>""");
        foreach (var (at, label) in Splits.Index())
            FormField.Choice(html, $"by-{at}", "by", label, () =>
            {
                FormField.Option(html, "", "None", chosen.ElementAtOrDefault(at) ?? "");
                foreach (var (use, title) in form.Fields.Where(field => !Levels(field.Use).IsEmpty
                    || !form.Titles.Order(field.Use.Name).IsEmpty))
                    FormField.Option(html, use.Name, title, chosen.ElementAtOrDefault(at) ?? "");
            });
        html.Add($"</fieldset>");
    }

    private static void Compare(Html html, ExploreForm form)
    {
        var open = Comparing.Any(key => form[key].Length > 0);
        html.Add($"""<details class="compare"{new Markup(open ? " open" : "")}><summary>Compare, and plan</summary>""");
        html.Add($"<fieldset><legend>Compare with</legend>");
        FormField.Condition(html, form, "versus", "Condition of the second cohort; empty for the same one in other months");
        FormField.Month(html, form, "versus_from", "Its first month");
        FormField.Month(html, form, "versus_to", "Its last month");
        html.Add($"""<button name="do" value="rest">Compare with all others</button></fieldset><fieldset><legend>Plan</legend>""");
        FormField.Text(html, "points", "Difference to show, percentage points", form["points"], " inputmode=\"decimal\"");
        html.Add($"</fieldset></details>");
    }

    private static ImmutableArray<string> Levels(FieldUse use) => use.Kind == FieldUseKind.YesNo ? ["yes", "no"] : use.Allowed;
}
