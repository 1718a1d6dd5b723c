using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
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

    public static void Write(Html html, ExploreForm form)
    {
        html.Add($"""<form id="ask" method="get" action="/" aria-label="Question"><fieldset class="what"><legend>Ask</legend>""");
        html.Add($"""<div class="field wide"><label for="measure">Measure or quantity</label><select id="measure" name="measure">""");
        foreach (var group in MeasureGroups.Of(form.Measures.Select(measure => new MeasureFigures { Measure = measure })))
        {
            html.Add($"""<optgroup label="{MeasureGroups.Title(group.Key)}">""");
            foreach (var each in group)
                Option(html, each.Measure.Id, each.Measure.Title, form["measure"]);
            html.Add($"</optgroup>");
        }

        html.Add($"</select></div>");
        Month(html, form, "from", "First month");
        Month(html, form, "to", "Last month");
        html.Add($"""<button class="main">Ask</button></fieldset>""");
        Cohort(html, form);
        Split(html, form);
        html.Add($"</form>");
    }

    private static void Cohort(Html html, ExploreForm form)
    {
        html.Add($"""<fieldset class="cohort"><legend>Among</legend><ul id="parts" class="parts">""");
        foreach (var (at, part) in form.Parts.Index())
            html.Add($"""<li>{AnswerWording.Part(part, form.Titles)} <button name="drop" value="{at.ToString()}" """
                + $"""aria-label="Remove: {AnswerWording.Part(part, form.Titles)}">Remove</button></li>""");
        html.Add($"</ul>");
        html.Add($"""<div class="build"><div class="field"><label for="field">Field</label><select id="field" name="field"><option value="">Choose a field</option>""");
        foreach (var (use, title) in form.Fields)
            Option(html, use.Name, title, form["field"]);
        html.Add($"""</select></div><div class="field"><label for="comparison">Comparison</label><select id="comparison" name="comparison">""");
        foreach (var (value, title) in Comparisons)
            Option(html, value, title, form["comparison"]);
        html.Add($"""</select></div><div class="field"><label for="value">Value</label><input id="value" name="value" list="values" autocomplete="off" value="{form["value"]}"><datalist id="values">""");
        foreach (var (use, title) in form.Fields)
            foreach (var level in Levels(use))
                html.Add($"""<option value="{form.Titles.Level(use.Name, level)}" data-field="{use.Name}">{title}</option>""");
        html.Add($"""</datalist></div><button name="do" value="add">Add condition</button></div>""");
        Condition(html, form, "among", "Condition as text");
        html.Add($"</fieldset>");
    }

    private static void Split(Html html, ExploreForm form)
    {
        var chosen = form.Typed["by"].SelectMany(each => each.Split(',', StringSplitOptions.TrimEntries)).ToArray();
        html.Add($"""<fieldset class="split"><legend>Split by</legend>""");
        for (var i = 0; i < 2; i++)
        {
            var name = i == 0 ? "First field" : "Second field";
            html.Add($"""<div class="field"><label for="by-{i.ToString()}">{name}</label><select id="by-{i.ToString()}" name="by"><option value="">None</option>""");
            foreach (var (use, title) in form.Fields.Where(field => field.Use.Kind == FieldUseKind.YesNo || !field.Use.Allowed.IsEmpty
                || !form.Titles.Order(field.Use.Name).IsEmpty))
                Option(html, use.Name, title, chosen.ElementAtOrDefault(i) ?? "");
            html.Add($"</select></div>");
        }

        html.Add($"""</fieldset><details class="compare"{new Markup(Compares(form) ? " open" : "")}><summary>Compare, and plan</summary><fieldset><legend>Compare with</legend>""");
        Condition(html, form, "versus", "Condition of the second cohort; empty for the same one in other months");
        Month(html, form, "versus_from", "Its first month");
        Month(html, form, "versus_to", "Its last month");
        html.Add($"""<button name="do" value="rest">Compare with all others</button></fieldset><fieldset><legend>Plan</legend>""");
        html.Add($"""<div class="field"><label for="points">Difference to show, percentage points</label><input id="points" name="points" inputmode="decimal" value="{form["points"]}"></div></fieldset></details>""");
        html.Add($"""<button class="main">Ask</button>""");
    }

    private static bool Compares(ExploreForm form) =>
        new[] { "versus", "versus_from", "versus_to", "points" }.Any(key => form[key].Length > 0);

    private static ImmutableArray<string> Levels(FieldUse use) => use.Kind == FieldUseKind.YesNo ? ["yes", "no"] : use.Allowed;

    private static void Condition(Html html, ExploreForm form, string key, string label) =>
        html.Add($"""<div class="field wide"><label for="{key}">{label}</label><textarea id="{key}" name="{key}" rows="2" spellcheck="false" autocomplete="off">{form[key]}</textarea></div>""");

    private static void Month(Html html, ExploreForm form, string key, string label) =>
        html.Add($"""<div class="field"><label for="{key}">{label}</label><input id="{key}" name="{key}" type="month" placeholder="YYYY-MM" """
            + $"""min="{form.Months.First.ToString()}" max="{form.Months.Last.ToString()}" value="{form[key]}"></div>""");

    private static void Option(Html html, string value, string title, string chosen) =>
        html.Add($"""<option value="{value}"{new Markup(value == chosen ? " selected" : "")}>{title}</option>""");
}
