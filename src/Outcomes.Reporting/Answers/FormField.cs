using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>One field of the form with its label.</summary>
internal static class FormField
{
    public static void Choice(Html html, string id, string name, string label, Action options, string style = "")
    {
        html.Add($"""<div class="field {style}"><label for="{id}">{label}</label><select id="{id}" name="{name}">""");
        options();
        html.Add($"</select></div>");
    }

    public static void Option(Html html, string value, string title, string chosen) =>
        html.Add($"""<option value="{value}"{new Markup(value == chosen ? " selected" : "")}>{title}</option>""");

    /// <param name="html">The page.</param>
    /// <param name="id">Its id and key.</param>
    /// <param name="label">Its label.</param>
    /// <param name="value">What was typed.</param>
    /// <param name="more">More attributes.</param>
    public static void Text(Html html, string id, string label, string value, string more) =>
        html.Add($"""<div class="field"><label for="{id}">{label}</label><input id="{id}" name="{id}" value="{value}" """
            + $"""autocomplete="off"{new Markup(more)}></div>""");

    public static void Month(Html html, ExploreForm form, string key, string label) =>
        html.Add($"""<div class="field"><label for="{key}">{label}</label><input id="{key}" name="{key}" type="month" """
            + $"""placeholder="YYYY-MM" min="{form.Months.First.ToString()}" max="{form.Months.Last.ToString()}" """
            + $"""value="{form[key]}"></div>""");

    public static void Condition(Html html, ExploreForm form, string key, string label) =>
        html.Add($"""<div class="field wide"><label for="{key}">{label}</label><textarea id="{key}" name="{key}" rows="2" """
            + $"""spellcheck="false" autocomplete="off">{form[key]}</textarea></div>""");
}
