namespace Outcomes.Reporting.Drawings;

/// <summary>Which charts leave as slides, beside the drawings on the pages.</summary>
public enum Slides
{
    None,

    /// <summary>The run charts of the headline measures.</summary>
    Headline,

    /// <summary>Every chart.</summary>
    All,
}
