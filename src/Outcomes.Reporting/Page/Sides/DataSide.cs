using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The last side: how far the data can be trusted, how the figures were made, what they are not for, and what the words mean.
/// </summary>
internal static class DataSide
{
    private const int MostQuestions = 5;

    private static readonly TableColumn[] Questions =
        ["Field", TableColumn.Num("Missing"), "Since", "What to ask for"];

    public static void Write(Html html, Figures model)
    {
        Quality(html, model);
        html.Add($"""<div class="columns"><h3>Methods</h3><ul class="prose">""");
        foreach (var line in MethodsWording.Lines(model))
            html.Add($"<li>{line}</li>");
        html.Add($"</ul><h3>Cautions</h3>");
        html.Add($"""<ul class="prose">""");
        foreach (var line in CautionsSection.Lines(model))
            html.Add($"<li>{line}</li>");
        html.Add($"""</ul><h3>Glossary</h3><dl class="glossary">""");
        foreach (var (term, means) in Glossary.Terms)
            html.Add($"<div><dt>{term}</dt><dd>{means}</dd></div>");
        html.Add($"""</dl></div>""");
        html.Add($"""<p class="more"><a href="{Appendix.File}#quality">Data quality</a>, <a href="{Appendix.File}#definitions">"""
            + $"""definitions</a> and <a href="{Appendix.File}#methods">methods</a> in full</p>""");
    }

    private static void Quality(Html html, Figures model)
    {
        html.Add($"<h3>Data quality</h3>");
        if (!model.Reconciliations.IsEmpty)
        {
            var total = Reconciliation.Total(model.Reconciliations);
            html.Add($"""<p class="sum">{DataWording.Reconciled(total)}.</p>""");
        }

        html.Add($"<p>{DataWording.Captured(model)}</p>");
        if (model.Questions.IsEmpty)
        {
            html.Add($"<p>{DataWording.NothingToAsk}</p>");
            return;
        }

        Table.Write(html, "t-asked", "Largest data gaps", Questions, () =>
        {
            foreach (var question in model.Questions.Take(MostQuestions))
                Table.Row(html, Questions, question.Title, question.WhatIsMissing(), question.SinceWhen(), question.Ask());
        }, "wordy");
    }
}
