using System.Text;
using Outcomes.Records;

namespace Outcomes.Reporting.Form;

/// <summary>The mapping that reads what a form saves: each column has its field's name.</summary>
public static class FormMapping
{
    public static string Text(FormPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var text = new StringBuilder("""
            # How a file that the form saved, CSV or JSON, becomes dictionary fields: each column has its field's name and its values are the dictionary's.
            # Attempts stand in the record's own row. The form writes every column, filled or not.
            columns:

            """.ReplaceLineEndings("\n"));
        foreach (var field in plan.Stages.SelectMany(stage => stage.Fields))
            text.Append($"  {field.Name}: {{column: {field.Name}{Pattern(field)}}}\n");
        return text.Append("attempts:\n  wide: \"attempt{n}_*\"\n").ToString();
    }

    private static string Pattern(Field field) => field.Type switch
    {
        FieldType.Date => ", date: yyyy-MM-dd",
        FieldType.Time => ", time: HH:mm",
        _ => "",
    };
}
