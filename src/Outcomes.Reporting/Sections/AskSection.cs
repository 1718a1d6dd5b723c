using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>What is missing, whose column, since when, what to ask for; and what that costs each headline measure.</summary>
internal static class AskSection
{
    public static void Write(Html html, Figures model)
    {
        html.Add($"<h3>What to ask for</h3>");
        if (model.Questions.IsEmpty)
            html.Add($"<p>{DataWording.NothingToAsk}</p>");
        else
        {
            TableColumn[] columns =
            [
                "Field", TableColumn.Num("Missing / asked"), TableColumn.Names("Column in the file"), "Since", "What to ask for",
                "Headline measures that need it"
            ];
            Table.Write(html, "t-ask", "What is missing, worst first", columns, () =>
            {
                foreach (var question in model.Questions)
                    Table.Row(html, columns, question.Title, question.WhatIsMissing(), string.Join("; ", question.Columns),
                        question.SinceWhen(), question.Ask(), string.Join("; ", question.Measures));
            }, "wordy");
        }

        if (model.MeasureCompleteness.IsEmpty)
            return;
        TableColumn[] needed = ["Headline measure", TableColumn.Num("Judged / asked"), "Its fields, the least known first"];
        Table.Write(html, "t-needs", "How completely each headline measure could be judged", needed, () =>
        {
            foreach (var measure in model.MeasureCompleteness)
                Table.Row(html, needed, measure.Title, $"{Wording.Number(measure.Judged)}/{Wording.Number(measure.Of)}",
                    string.Join("; ",
                        measure.Weakest.Select(field => $"{field.Title} {Wording.Number(field.Known)}/{Wording.Number(field.Of)}")));
        }, "wordy");
    }
}
