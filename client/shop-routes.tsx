import { lazy } from 'react';
import { Route } from 'react-router';

const MachinesScreen = lazy(async () => ({
  default: (await import('./screens/machines/machines-screen.tsx')).MachinesScreen,
}));
const MachineScreen = lazy(async () => ({
  default: (await import('./screens/machines/machine-screen.tsx')).MachineScreen,
}));
const NewMachineScreen = lazy(async () => ({
  default: (await import('./screens/machines/machine-screen.tsx')).NewMachineScreen,
}));
const CardsScreen = lazy(async () => ({ default: (await import('./screens/cards/cards-screen.tsx')).CardsScreen }));
const CardScreen = lazy(async () => ({ default: (await import('./screens/cards/card-screen.tsx')).CardScreen }));
const NewCardScreen = lazy(async () => ({
  default: (await import('./screens/cards/new-card-screen.tsx')).NewCardScreen,
}));
const PeopleScreen = lazy(async () => ({
  default: (await import('./screens/people/people-screen.tsx')).PeopleScreen,
}));
const PersonScreen = lazy(async () => ({
  default: (await import('./screens/people/person-screen.tsx')).PersonScreen,
}));
const NewPersonScreen = lazy(async () => ({
  default: (await import('./screens/people/new-person-screen.tsx')).NewPersonScreen,
}));
const ShopScreen = lazy(async () => ({ default: (await import('./screens/shop/shop-screen.tsx')).ShopScreen }));

/** What the shop owns: machines, cards, people, and what holds for all of them. */
export const SHOP_ROUTES = (
  <>
    <Route path="machines" element={<MachinesScreen />} />
    <Route path="machines/new" element={<NewMachineScreen />} />
    <Route path="machines/:machineId" element={<MachineScreen />} />
    <Route path="cards" element={<CardsScreen />} />
    <Route path="cards/new" element={<NewCardScreen />} />
    <Route path="cards/:cardId" element={<CardScreen />} />
    <Route path="people" element={<PeopleScreen />} />
    <Route path="people/new" element={<NewPersonScreen />} />
    <Route path="people/:personId" element={<PersonScreen />} />
    <Route path="shop" element={<ShopScreen />} />
  </>
);
