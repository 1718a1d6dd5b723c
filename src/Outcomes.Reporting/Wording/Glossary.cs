namespace Outcomes.Reporting;

/// <summary>What the words of a report mean, for a reader who does not use them every day.</summary>
public static class Glossary
{
    public static IReadOnlyList<(string Term, string Means)> Terms { get; } =
    [
        ("Attempt", "One pass of the laryngoscope, from entering the mouth to leaving it."),
        ("Baseline", "Months fixed in advance, with which later ones are compared."),
        ("Capnography, waveform", "The trace of exhaled carbon dioxide that shows where the tube is."),
        ("Capture", "Procedures recorded, out of those counted independently."),
        ("Case mix", "How ill and how difficult the patients were."),
        ("Data gap", "A field that is often missing, so that figures rest on fewer records."),
        ("Declared change", "A change of practice written down with the date of its evaluation."),
        ("Denominator", "The records a measure is asked of: N in n/N."),
        ("Desaturation", "A fall in oxygen saturation below a stated limit."),
        ("Eligible", "Belonging to the denominator of a measure."),
        ("Emergency population", "Adults, not planned, with at least one airway attempt."),
        ("Evaluation", "The one planned look at a declared change."),
        ("False-positive rate", "How often a test signals although nothing changed."),
        ("First-pass success", "A tube placed at the first attempt."),
        ("Front-of-neck access", "An airway through the skin of the neck: plan D."),
        ("Headline measure", "One of the few measures that are tested every month."),
        ("Interval, 95 %", "The range of true rates that fit the count."),
        ("Median", "The middle value: half lie below, half above."),
        ("Missing", "Not recorded, so neither yes nor no."),
        ("Plans A to D", "Tube, supraglottic airway, facemask, front of neck."),
        ("Preoxygenation", "Oxygen given before induction to lengthen safe apnoea."),
        ("Provisional", "A month whose records are still arriving."),
        ("Run", "Consecutive points on one side of the median."),
        ("Stratum", "A group of records, such as nights or one location."),
        ("Verdict", "The one statement a report makes about change in a measure."),
    ];
}
