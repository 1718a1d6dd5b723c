namespace Outcomes.Studies.Signals;

/// <summary>A kind of department and measure: cases a month, months of history, and bad rate, which may change.</summary>
/// <param name="Volume">Mean cases a month; each month is Poisson.</param>
/// <param name="History">Months of history before the first report.</param>
/// <param name="Rate">Bad rate.</param>
/// <param name="Changed">Bad rate from the changed report on; null: stable.</param>
/// <param name="From">0-based report of the change.</param>
internal sealed record Unit(double Volume, int History, double Rate, double? Changed = null, int From = 0);
