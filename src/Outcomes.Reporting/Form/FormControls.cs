using System.Globalization;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Form;

/// <summary>The controls of one field: label, hint, place for its error, and the reasons for giving no value.</summary>
internal static class FormControls
{
    /// <param name="html">The page.</param>
    /// <param name="field">The field.</param>
    /// <param name="id">The control's id and the column it is saved in.</param>
    public static void Write(Html html, Field field, string id)
    {
        html.Add($"""<div class="field" id="{id}-field">""");
        if (field.Type == FieldType.Set) Set(html, field, id);
        else if (field.Type is FieldType.Code or FieldType.YesNo) Choice(html, field, id);
        else Text(html, field, id);
        html.Add($"""<p class="error" id="{id}-error"></p></div>""");
        html.Add($"\n");
    }

    /// <summary>The heading with its unit, for a label or a line on paper.</summary>
    public static string Label(Field field) => field.Title + (Wording.UnitInWords(field.Unit) is { } unit ? $" ({unit})" : "");

    private static void Choice(Html html, Field field, string id)
    {
        Label(html, field, id);
        html.Add($"""<select id="{id}" name="{id}" aria-describedby="{id}-hint {id}-error"><option value="">(blank)</option>""");
        foreach (var value in field.Type == FieldType.YesNo ? ["yes", "no"] : field.Allowed)
            html.Add($"""<option value="{value}">{field.TitleOf(value)}</option>""");
        html.Add($"""<optgroup label="No value, because">""");
        Reasons(html, field);
        html.Add($"</optgroup></select>");
    }

    private static void Text(Html html, Field field, string id)
    {
        Label(html, field, id);
        var type = field.Type == FieldType.Date ? "date" : "text";
        html.Add(
            $"""<span class="pair"><input id="{id}" name="{id}" type="{type}" autocomplete="off" spellcheck="false" """
                + $"""inputmode="{Mode(field)}" aria-describedby="{id}-hint {id}-error">""");
        if (!field.Required) Why(html, field, id);
        html.Add($"</span>");
    }

    private static void Set(Html html, Field field, string id)
    {
        html.Add(
            $"""<fieldset class="set" id="{id}" tabindex="-1" aria-describedby="{id}-hint {id}-error">"""
                + $"""<legend>{Label(field)}{Core(field)}</legend>""");
        Hint(html, field, id);
        foreach (var value in field.Allowed)
            html.Add($"""<label class="tick"><input type="checkbox" name="{id}" value="{value}"> {field.TitleOf(value)}</label>""");
        Why(html, field, id);
        html.Add($"</fieldset>");
    }

    private static void Label(Html html, Field field, string id)
    {
        html.Add($"""<label for="{id}">{Label(field)}{Core(field)}</label>""");
        Hint(html, field, id);
    }

    private static void Hint(Html html, Field field, string id) =>
        html.Add($"""<p class="hint" id="{id}-hint">{field.Description}{Range(field)}</p>""");

    private static string Core(Field field) => field.Required ? " (needed)" : field.Core ? " (core)" : "";

    private static void Why(Html html, Field field, string id)
    {
        html.Add(
            $"""<select id="{id}-why" class="why" aria-label="{field.Title}: if no value, why">"""
                + $"""<option value="">if no value, why</option>""");
        Reasons(html, field);
        html.Add($"</select>");
    }

    private static void Reasons(Html html, Field field)
    {
        foreach (var token in field.Missing.Where(token => token.Word.Length > 0))
            html.Add($"""<option value="{token.Word}" data-reason="1">{Readable.Words(token.Word)}</option>""");
    }

    private static string Mode(Field field) => field.Type switch
    {
        // A keypad for whole numbers has no minus sign on some telephones.
        FieldType.Integer when field.Hard is { Minimum: >= 0 } => "numeric",
        FieldType.Number when field.Hard is { Minimum: >= 0 } => "decimal",
        _ => "text",
    };

    private static string Range(Field field) =>
        field.Type is FieldType.Integer or FieldType.Number && field.Hard is { Minimum: { } low, Maximum: { } high }
            ? string.Create(CultureInfo.InvariantCulture, $" From {low:0.###} to {high:0.###}.") : "";
}
